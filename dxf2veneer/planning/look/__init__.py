"""How a plan looks: joints moved so that they make no pattern (rule L25)."""
