"""The stages in order, and what runs them: one takeoff, a batch of them, a watch over drawings."""
