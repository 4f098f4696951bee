"""The browser half; files only."""
