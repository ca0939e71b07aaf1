"""Read a filled form: files that may be anything, sheets that were moved about."""
