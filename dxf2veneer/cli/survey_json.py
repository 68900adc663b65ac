"""The survey of a drawing as plain values for programs."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from dxf2veneer.app.proposing import Seen
from dxf2veneer.basics.notices import Notice
from dxf2veneer.drawing.survey import LayerSurvey, Survey
from dxf2veneer.propose.telling import told_evidence
from dxf2veneer.propose.unit import Evidence
from dxf2veneer.wording import say
from dxf2veneer.writers.result.message_data import message_data


def survey_json(survey: Survey, seen: Seen | None = None) -> dict[str, Any]:
    """What ``dxf2veneer layers --json`` prints.

    Args:
        survey: The survey of one file.
        seen: The same file looked at as a whole; None where it is too large for that.

    Returns:
        Plain values; sizes and areas in drawing units. Every English line has its code and values
        beside it.
    """
    return {
        "file": survey.file,
        "dxf_version": survey.dxf_version,
        "units": survey.units,
        "unit_code": survey.unit_code,
        "measured": say(survey.measured),
        "measured_data": message_data(survey.measured),
        "width": survey.width,
        "height": survey.height,
        "in_units": [asdict(entry) for entry in survey.in_units],
        "layers": [_layer(layer) for layer in survey.layers],
        "notices": [_notice(notice) for notice in survey.notices],
        "evidence": [_evidence(item) for item in seen.unit.evidence] if seen else [],
        "recommended": seen.unit.unit if seen else None,
        "views": [view.as_json() for view in seen.proposal.views] if seen else [],
    }


def _layer(layer: LayerSurvey) -> dict[str, Any]:
    return {
        "name": layer.name,
        "state": layer.state,
        "counts": dict(layer.counts),
        "closed_outlines": layer.closed_outlines,
        "closed_area": layer.closed_area,
        "width": layer.width,
        "height": layer.height,
        "guess": layer.guess or "",
        "why": say(layer.why) if layer.why else "",
        "why_data": message_data(layer.why),
        "entities": layer.entities,
    }


def _evidence(item: Evidence) -> dict[str, Any]:
    told = told_evidence(item.what, item.value)
    return {
        "source": item.what,
        "units": list(item.best),
        "what": say(told),
        "what_data": message_data(told),
        "handle": item.handle,
        "at": item.place,
    }


def _notice(notice: Notice) -> dict[str, Any]:
    return {
        "level": notice.level.value,
        "code": notice.code,
        "drawing": notice.drawing,
        "layer": notice.layer,
        "handle": notice.handle,
        "at_in": notice.at_in,
        "count": notice.count,
        "message": say(notice.message),
        "message_data": message_data(notice.message),
    }
