"""Colors of the panels: each wall gets its shares, spread out (rule L22)."""
