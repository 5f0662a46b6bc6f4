"""What is there: a house, its plain files, and how they are made and changed."""
