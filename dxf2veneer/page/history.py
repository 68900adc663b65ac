"""Every state of the marks, so that each step can be taken back and made again."""

from __future__ import annotations

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
