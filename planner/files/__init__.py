"""Plain files: how any folder is read and written."""
