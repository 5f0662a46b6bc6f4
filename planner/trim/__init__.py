"""What carries a tier: orders, styles, mouldings, stock, built-ups and packages."""
