"""From a plan to an order: pieces of wood, what they are cut from, and how the saw is set."""
