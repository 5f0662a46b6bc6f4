"""How formal each room is: the graph of rooms, their importance, and the exact assignment of tiers."""
