"""A planner of interior trim for whole houses: house and intent in, plan out, views after."""
