"""What a sentence of a remark is."""

from collections.abc import Callable

Sentence = str | Callable[..., str]
"""A text with the remark's values in braces, or a function of them by their names."""
