"""Settings for all tests."""

from hypothesis import settings

# A machine that does other work too must not fail a law for being slow; and the same examples are tried each time.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")
