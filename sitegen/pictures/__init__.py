"""Photos to sizes: read a header, plan the sizes, make what the cache lacks. The only door to Pillow."""
