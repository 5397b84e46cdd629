"""Says what a customer is asked to do with what he holds of something in doubt.

Common practice, no source: what a recall must hold by law differs from country to country, and
the letter says so.
"""

from typing import Final

DO_NOW: Final = (
    "Take every item listed here out of use today, wherever it is; put down what hangs on it.",
    "Mark each one, and keep it where nobody takes it.",
    "Where you have passed an item on, tell whoever has it now, and tell us who that is.",
    "Do not repair, cut up, destroy or send back anything before we have agreed on it with you.",
    "Look up the tag of an item to see what stands on record about it at that moment.",
    "Answer this letter, naming its number, even if you find nothing.",
)

CAUTIONS: Final = (
    "A doubt is not a finding: some of these items may prove to be sound.",
    "Until you have our word in writing, treat each one as unfit to carry anything.",
    "An item that has lost its tag, and may be one of these, is in doubt as well.",
    "That an item was examined, tested or used without trouble does not settle the doubt.",
    "This letter does not replace the judgement of a competent person.",
    "Your local law may ask you to report this, or to inform others: that is not done by us.",
)
