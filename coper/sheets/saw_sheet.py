"""The pages of one joint's saw: the set-up card of the best one, and the log of the fit."""

from __future__ import annotations

from coper.drawing.page import Page
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.saw.kit import SawChoice
from coper.pages.compose import Block, compose
from coper.pages.text import caution_column
from coper.sheets.fit_log import joint_log, log_block
from coper.sheets.setup_card import joint_card
from coper.sheets.setup_card_marks import card_block
from coper.telling.words.joint import title


def saw_pages(
    joint: Joint, choice: SawChoice, limit: Limit | None, paper: str
) -> tuple[Page, ...]:
    """The card of ``choice`` and its log, on ``paper``."""
    blocks = (
        card_block(joint_card(joint, choice, limit)),
        Block("cautions", caution_column(SAFETY)),
        log_block(joint_log(joint, choice.fit, choice.passes)),
    )
    return compose(blocks, paper, title=f"saw: {title(joint)}")
