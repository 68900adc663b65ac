"""What every room may use: messages and notices as values, exact units, tolerances."""
