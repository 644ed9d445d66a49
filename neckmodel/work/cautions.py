"""The cautions, which stand wherever a cut, dust, glue or a load is described. Common practice; local rules come
first."""

from __future__ import annotations

FIRST = "Follow the machine maker's manual, the product's data sheet and your local rules, which come first."
ROUTER = (
    "Router: eye, ear and lung protection; no gloves, loose sleeves or hair near a cutter. Work clamped at two places. "
    "Power off and unplugged before you touch the cutter. Shank deep in the collet, not bottomed. Feed against the "
    "cutter's rotation, in light equal passes; plunge; never start on end grain. Stop blocks at both ends. Trial cut "
    "in scrap, and measure it."
)
SAW = (
    "Saw: eye, ear and lung protection; no gloves, loose sleeves or hair near a blade; guards on, work held against "
    "its fence or table; unplugged before you touch the blade."
)
DRILL = (
    "Drill: work clamped; no gloves, loose sleeves or hair near the drill; eye protection; a scrap board under the "
    "exit."
)
PRINTED = (
    "A printed jig softens near 55 C: keep it from sun, stoves and a hot cutter, and let it cool between passes. It "
    "guides the work and is never the only guard: clamp the work at two places as well, and keep the machine's own "
    "guards on."
)
JIG = (
    f"{PRINTED} The machine maker's manual, the product's data sheet and your local rules come first. Measure the jig "
    "before its first use, and make a trial cut in scrap."
)
CHISEL = "Chisel: both hands behind the edge, the work clamped."
DUST = (
    "Dust: extract it at the source and wear lung protection; several species sensitise, and hardwood dust is a cancer "
    "hazard."
)
BARS = (
    "Bars: carbon and metal dust sting in skin and lungs; extract them apart from wood dust, and never blow them off."
)
GLUE = "Glue: epoxies and cyanoacrylates sensitise; gloves for glue, fresh air, and the product's data sheet."
STRINGS = (
    "Strings: their ends whip; slacken them before rod work. Turn the adjuster in small steps and never force a stiff "
    "one. The total pull of the strings is about the weight of a person."
)
STRINGS_ALONE = (
    "Strings: their ends whip; bring them up evenly, little by little. Their total pull is about a person's weight."
)
ESTIMATES = (
    "Strength, relief and life are estimates from handbook wood that varies by about a fifth; there is no warranty. "
    "Species, and whether they may be used and traded, are the maker's duty."
)
