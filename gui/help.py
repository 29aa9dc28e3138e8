"""What F1 tells of a page: its part of the manual's chapter about the window."""

from scorer.manual.guides import guide

CHAPTER = "window"
HEADING = "## "
PICTURE = "!["


def help_of(title: str) -> str:
    """Return the part of the page of this title as Markdown, then how the keys work.

    Its picture is left out: the page itself stands behind the help.
    """
    whole, *parts = guide(CHAPTER).split(f"\n{HEADING}")
    by_title = {part.partition("\n")[0].strip(): part for part in parts}
    own = by_title.get(title)
    told = f"{HEADING}{own}\n\n{whole}" if own else whole
    lines = (line for line in told.split("\n") if not line.startswith(PICTURE))
    return "\n".join(lines)
