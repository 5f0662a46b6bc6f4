"""Rows of arrays: kinds of them, and sets of many members as bits."""

from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Whole: TypeAlias = npt.NDArray[np.int64]
Truths: TypeAlias = npt.NDArray[np.bool_]
Words: TypeAlias = npt.NDArray[np.uint64]
"""Sets, a row each, as bits in whole words."""

WORD = 64
"""Bits of a word."""


def packed(truths: Truths) -> Words:
    """Rows of truths as bits."""
    wide = np.zeros((len(truths), -(-truths.shape[1] // WORD) * WORD), dtype=bool)
    wide[:, : truths.shape[1]] = truths
    return np.packbits(wide, axis=1).view(np.uint64) if wide.size else np.zeros((len(truths), 0), dtype=np.uint64)


def unpacked(words: Words, count: int) -> Floats:
    """The first bits of rows of words, as zeros and ones.

    >>> unpacked(packed(np.array([[True, False, True]])), 3)
    array([[1., 0., 1.]])
    """
    return np.unpackbits(words.view(np.uint8), axis=1, count=count).astype(np.float64)


def distinct(*columns: npt.NDArray[Any]) -> tuple[Whole, Whole]:
    """The first row of each kind of row, and for each row which kind it is.

    >>> distinct(np.array([3, 1, 3]), np.array([0, 0, 0]))
    (array([1, 0]), array([1, 0, 1]))
    """
    count = len(columns[0])
    differing = [column for column in columns if (column != column[:1]).any()]
    kind = np.zeros(count, dtype=np.int64)
    if not differing:
        return np.arange(min(count, 1)), kind
    order = np.lexsort(differing)
    new = np.any([column[order][1:] != column[order][:-1] for column in differing], axis=0)
    kind[order] = np.concatenate([[0], np.cumsum(new)])
    return order[np.concatenate([[True], new])], kind
