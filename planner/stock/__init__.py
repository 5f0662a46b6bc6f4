"""What can be bought, and what is built of it."""
