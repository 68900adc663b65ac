"""What is said with every result."""

CAUTION = (
    "An aid to bidding, not a design: local codes, the maker's instructions and a licensed "
    "professional decide."
)
"""One line, on the terminal and in the report."""

UNCONFIRMED = "proposed, not confirmed"
"""On top of everything that comes of a proposal which no person has confirmed."""
