"""House, intent, stock and library in, plan out."""
