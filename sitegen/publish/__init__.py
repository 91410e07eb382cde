"""Publishing: the sealed files of one event go to a host, and are seen to be there."""
