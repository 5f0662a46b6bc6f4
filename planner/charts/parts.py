"""What is drawn of a house that is too large for one chart, and the words that say so."""

import pandas as pd

MOST_ROOMS = 300
"""Rooms that one chart draws; more could not be told apart."""

MOST_WALKS = 12
"""Walks that one chart draws for each alternative."""


def nearest_rooms(rooms: pd.DataFrame) -> tuple[pd.DataFrame, str]:
    """The rooms of frames.rooms that are drawn, in their order: all, or those nearest the entry, as the words say."""
    if len(rooms) <= MOST_ROOMS:
        return rooms, ""
    drawn = rooms.loc[rooms["depth"].sort_values(kind="stable").index[:MOST_ROOMS].sort_values()]
    return drawn, f"Drawn are the {MOST_ROOMS} of {len(rooms):,} rooms that are nearest the entry."


def first_of(frame: pd.DataFrame, column: str, most: int, things: str) -> tuple[pd.DataFrame, str]:
    """The rows of the first few values of a column; the words say how many things there are of which few are drawn."""
    values = frame[column].drop_duplicates()
    if len(values) <= most:
        return frame, ""
    return frame[frame[column].isin(set(values[:most]))], f"Drawn are the first {most} of {len(values):,} {things}."
