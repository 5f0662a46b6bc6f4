"""Does it fit, does it read: rules held against a plan."""
