"""Every state of the marks, so that each step can be taken back and made again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

State = TypeVar("State")


@dataclass(frozen=True)
class History(Generic[State]):
    """States before and after the present one."""

    now: State
    """The present state."""
    before: tuple[State, ...] = ()
    """Those before it, the oldest first."""
    after: tuple[State, ...] = ()
    """Those that were taken back, the next one last."""

    def then(self, state: State) -> History[State]:
        """One step on; what was taken back is forgotten. A step that changes nothing is none."""
        if state == self.now:
            return self
        return History(state, (*self.before, self.now))

    def undone(self) -> History[State]:
        """One step back; the same where there is none."""
        if not self.before:
            return self
        return History(self.before[-1], self.before[:-1], (*self.after, self.now))

    def redone(self) -> History[State]:
        """One step on again; the same where there is none."""
        if not self.after:
            return self
        return History(self.after[-1], (*self.before, self.now), self.after[:-1])

    def mapped(self, change: Callable[[State], State]) -> History[State]:
        """The same steps with every state changed alike."""
        before, after = (tuple(map(change, states)) for states in (self.before, self.after))
        return History(change(self.now), before, after)
