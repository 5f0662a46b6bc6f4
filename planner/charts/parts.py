"""What is drawn of a house that is too large for one chart, and the words that say so."""

import pandas as pd

MOST_ROOMS = 300
"""Rooms that one chart draws; more could not be told apart."""


def nearest_rooms(rooms: pd.DataFrame) -> tuple[pd.DataFrame, str]:
    """The rooms of frames.rooms that are drawn, in their order: all, or those nearest the entry, as the words say."""
    if len(rooms) <= MOST_ROOMS:
        return rooms, ""
    drawn = rooms.loc[rooms["depth"].sort_values(kind="stable").index[:MOST_ROOMS].sort_values()]
    return drawn, f"Drawn are the {MOST_ROOMS} of {len(rooms):,} rooms that are nearest the entry."
