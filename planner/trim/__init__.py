"""What carries a tier: orders, styles, the designer's rules, packages, and whether a step of two reads."""
