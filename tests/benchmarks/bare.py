"""What the kernel alone costs: import it and repeat the booleans of one design on shapes read from files.

    python bare.py FOLDER cadquery|ocp

FOLDER holds what `bench_runs.record` left: `<n>-<kind>-<argument>.brep`, argument 0 being cut and the others cutting.
No building of shapes, no checks, no meshes, no findings: less work than any honest program could do.
"""

from __future__ import annotations

import sys
from pathlib import Path


def main(folder: Path, entry: str) -> int:
    if entry == "cadquery":
        import cadquery  # noqa: F401 (the way in that most programs take)
    from OCP.BRep import BRep_Builder
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
    from OCP.BRepTools import BRepTools
    from OCP.TopoDS import TopoDS_Shape
    from OCP.TopTools import TopTools_ListOfShape

    kinds = {"Cut": BRepAlgoAPI_Cut, "Common": BRepAlgoAPI_Common, "Fuse": BRepAlgoAPI_Fuse}
    fuzzy = float((folder / "fuzzy.txt").read_text())
    operations: dict[str, list[Path]] = {}
    for path in sorted(folder.glob("*.brep")):
        operations.setdefault(path.stem.rpartition("-")[0], []).append(path)
    for name, paths in operations.items():
        listed = (TopTools_ListOfShape(), TopTools_ListOfShape())
        for at, path in enumerate(paths):
            shape = TopoDS_Shape()
            BRepTools.Read_s(shape, str(path), BRep_Builder())
            listed[at > 0].Append(shape)
        algorithm = kinds[name.partition("-")[2]]()
        algorithm.SetArguments(listed[0])
        algorithm.SetTools(listed[1])
        algorithm.SetNonDestructive(True)
        algorithm.SetFuzzyValue(fuzzy)
        algorithm.Build()
        if not algorithm.IsDone() or algorithm.Shape().IsNull():
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2]))
