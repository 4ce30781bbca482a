"""An end of a job as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import numpy as np

from coper.frame.end_joint import EndJoint
from coper.job.named_end import JobEnd
from coper.joint.cope import Cope
from coper.joint.template import Template
from coper.telling.records.counted import recounted
from coper.telling.records.joint import cope_record, footprint_record, joint_record, template_record


def end_head(end: JobEnd) -> dict[str, Any]:
    """Which end it is, and the joint with the main that takes most of it."""
    tube = end.piece.tube
    return {
        "job": end.job.title,
        "file": end.job.file or None,
        "tube": tube.name,
        "side": tube.side,
        "end": end.end.which,
        "cut": end.end.cut,
        "mains": [] if end.end.flat else [asdict(seat) for seat in end.end.stances],
        "joint": joint_record(end.joint.first),
    }


def end_cope_record(joint: EndJoint, cope: Cope) -> dict[str, Any]:
    """The edge, clocks as the tube counts them and alongs from its start point."""
    found = recounted(cope_record(cope), joint.counted,
                      ("outer", "inner", "dihedral", "main"), ())
    for name in ("outer", "inner"):
        found[name] = [None if one is None else joint.counted_along(one) for one in found[name]]
    for name in ("long_point", "short_point"):
        point = found[name]
        found[name] = {"clock": joint.counted(point["clock"]),
                       "along": joint.counted_along(point["along"])}
    found["open"] = [list(one) for one in joint.end.open]
    return found


def end_template_record(joint: EndJoint, template: Template) -> dict[str, Any]:
    """The template's cut line, flat, over the tube's clocks; ``y`` from its start point."""
    x, y = joint.tube.seen_from("start")[0].flat(
        joint.counted(template.clock), joint.counted_along(template.along), template.paper / 2)
    order = np.argsort(joint.counted(template.clock), kind="stable")
    flat = Template(template.clock[order], template.along[order], x[order], y[order],
                    template.width, template.cut, template.paper, template.stretch)
    return template_record(flat)


def end_footprint_record(joint: EndJoint, cope: Cope) -> dict[str, Any]:
    """Where the edge lands on each main, in that main's own measures, over the tube's clocks."""
    order = np.argsort(joint.counted(cope.clock), kind="stable")
    found: dict[str, Any] = {}
    for index in range(len(cope.cluster.mains)):
        landing = footprint_record(cope.footprint(index))
        for name, values in landing.items():
            before = found.get(name, [None] * order.size)
            found[name] = [values[at] if cope.main[at] == index else one
                           for at, one in enumerate(before)]
    return {name: [values[at] for at in order] for name, values in found.items()}
