"""What the notebooks share."""
