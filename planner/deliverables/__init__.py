"""A plan written for somebody else to use."""
