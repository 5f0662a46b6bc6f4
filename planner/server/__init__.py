"""One server for all three apps: who comes in by which door, and what may leave by it."""
