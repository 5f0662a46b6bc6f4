"""What is there (House) and what is wanted (Intent), read from and written to plain files."""
