"""What is said with every result."""

CAUTION = (
    "An aid to bidding, not a design: local codes, the maker's instructions and a licensed "
    "professional decide."
)
"""One line, on the terminal and in the report."""
