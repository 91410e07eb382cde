"""The Chromium that browser tests open pages in, and whether its lack lets them be skipped."""

import os
import shutil

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# At home a missing browser skips its tests; where it is required they fail.
MAY_SKIP = CHROMIUM is None and os.environ.get("SITEGEN_BROWSER") != "required" and not os.environ.get("CI")
