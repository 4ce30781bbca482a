"""The pages of one joint's saw: the set-up card of the best one, and the log of the fit."""

from __future__ import annotations

from coper.bench.setup import EndSetup
from coper.drawing.page import Page
from coper.job.named_end import JobEnd
from coper.joint.cautions import SAFETY
from coper.joint.fit.face import Bevelled
from coper.joint.fit.fit import Fit, seat
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.saw.kit import SawChoice
from coper.pages.compose import Block, compose
from coper.pages.text import caution_column
from coper.sheets.fit_log import end_log, joint_log
from coper.sheets.fit_log_marks import log_block
from coper.sheets.setup_card import Card, joint_card
from coper.sheets.setup_card_marks import card_block
from coper.telling.words.end import end_title
from coper.telling.words.joint import title


def saw_pages(
    joint: Joint, choice: SawChoice, limit: Limit | None, paper: str,
    printer: tuple[float, float],
) -> tuple[Page, ...]:
    """The card of ``choice`` and its log, on ``paper``; of the template where no saw reaches."""
    fit, passes = (choice.fit, choice.passes) if choice.reaches else (_by_template(joint), ())
    blocks = (
        card_block(joint_card(joint, choice, limit)),
        Block("cautions", caution_column(SAFETY)),
        log_block(joint_log(joint, fit, passes)),
    )
    return compose(blocks, paper, printer, title=f"saw: {title(joint)}")


def end_saw_pages(
    end: JobEnd, setup: EndSetup, card: Card, paper: str, printer: tuple[float, float]
) -> tuple[Page, ...]:
    """The ``card`` of an end of a job and its log, on ``paper``."""
    blocks = (
        card_block(card),
        Block("cautions", caution_column(SAFETY)),
        log_block(end_log(end.piece, setup, end.job.file)),
    )
    return compose(blocks, paper, printer, title=f"saw: {end_title(end)}")


def _by_template(joint: Joint) -> Fit:
    """What the bevelled cut of the template leaves."""
    whole = joint.cluster()
    return seat(Bevelled(whole), whole)
