"""The tabs of the designer's app, a file for each: their controls, and what they show of the plan."""
