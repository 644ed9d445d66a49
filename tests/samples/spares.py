"""Whether what a finding has to spare says the same as its verdict."""

from __future__ import annotations

from neckmodel.findings import FAIL, PASS, Finding

TIE = 1e-6  # mm, as in the checks
# warnings of what keeps its limit, by check or family: what they are about instead
UNUSUAL = {
    "cutter": "flutes shorter than the step is deep",
    "head/scarf": "a seam nearer than usual, or one that comes out in a volute",
    "heel/screws": "a bite that is not the usual one",
    "stock/grain": "a slope steeper than usual",
    "stock/size": "a board that may be rough",
    "strength/relief": "the years, and an estimate of large bows",
    "strength/rod": "ends that dent the wood",
}


def agrees(finding: Finding) -> bool:
    """Whether a finding that passes has something to spare and one that does not lacks it, within its measuring error;
    True of one without a number to hold against another. A warning may also be about the worst case, or about what is
    not usual."""
    if finding.measured is None or (finding.limit is None and finding.held is None):
        return True
    off = max(finding.error or 0.0, TIE)
    if finding.verdict == PASS:
        return finding.spare >= -off
    if finding.verdict == FAIL or finding.spare <= off:
        return finding.spare <= off
    least = finding.limit if finding.held is None else finding.held[0]
    misses = finding.worst_case is not None and least is not None and finding.worst_case < least - TIE
    return misses or finding.check in UNUSUAL or finding.check.partition("/")[0] in UNUSUAL
