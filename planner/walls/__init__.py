"""What stands where on each wall, and whether it fits."""
