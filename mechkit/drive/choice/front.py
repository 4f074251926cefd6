"""The front: what nothing else beats in everything that counts at once."""

import numpy as np

#: So many are held against the front at a time; enough to keep the arrays in the cache.
BLOCK = 256


def front(points):
    """Which rows no other row beats: nowhere worse and somewhere better.

    Parameters
    ----------
    points : array
        A row for each candidate, a column for each aim; less is better in all of them.

    Returns
    -------
    array of bool
        True for the rows on the front.  Rows that are alike stand or fall together.

    Examples
    --------
    >>> front([[1, 3], [2, 2], [3, 3], [2, 2]]).tolist()
    [True, True, False, True]
    """
    points = np.asarray(points, float)
    if not points.size:
        return np.ones(len(points), bool)
    order = np.lexsort(points.T[::-1])
    sorted_ = points[order]
    first = np.append(True, (sorted_[1:] != sorted_[:-1]).any(axis=1))
    rows = sorted_[first]  # each once, however many are alike
    # Rows are sorted, first aim first: whoever beats a row stands before it.
    if rows.shape[1] == 1:
        on = np.arange(len(rows)) == 0
    elif rows.shape[1] == 2:
        best = np.minimum.accumulate(rows[:, 1])
        on = np.append(True, rows[1:, 1] < best[:-1])
    else:
        on = _many(rows)
    answer = np.empty(len(points), bool)
    answer[order] = on[np.cumsum(first) - 1]
    return answer


def _many(rows):
    """The front of sorted, unlike rows of three aims and more."""
    on = np.zeros(len(rows), bool)
    kept = rows[:0]
    for start in range(0, len(rows), BLOCK):
        block = rows[start : start + BLOCK]
        left = np.flatnonzero(~_beaten(block, kept))
        mine = block[left]
        left = left[~_beaten(mine, mine)]
        on[start + left] = True
        kept = np.concatenate([kept, block[left]])
    return on


def _beaten(rows, others):
    """Which rows are nowhere better than one of the others; a row does not beat its like."""
    as_good = np.ones((len(rows), len(others)), bool)
    for row, other in zip(rows.T, others.T, strict=True):
        as_good &= other <= row[:, None]
    if others is rows:
        np.fill_diagonal(as_good, False)
    return as_good.any(axis=1)
