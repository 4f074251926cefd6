"""Exercises whose answers check themselves: right, close or not yet, and a hint."""


def check(answer, right, hint, within=0.1):
    """Say whether an answer is right.

    Parameters
    ----------
    answer : float or None
        What the reader wrote; ``...`` or None means that he has not tried yet.
    right : float
        What the formula says.
    hint : str
        Shown once an answer was tried and is not right.
    within : float
        Relative difference that still counts as right.

    Returns
    -------
    verdict : str
        One line.

    Examples
    --------
    >>> check(2.1, 2.0, "Think of the lever.")
    'Right: 2 or close to it.'
    >>> check(2.5, 2.0, "Think of the lever.")
    'Close. Hint: Think of the lever.'
    >>> check(..., 2.0, "Think of the lever.")
    'Write your answer in place of the dots.'
    """
    if answer is None or answer is ...:
        return "Write your answer in place of the dots."
    off = abs(answer - right) / abs(right) if right else abs(answer)
    if off <= within:
        return f"Right: {right:.3g} or close to it."
    if off <= 3 * within:
        return f"Close. Hint: {hint}"
    return f"Not yet. Hint: {hint}"
