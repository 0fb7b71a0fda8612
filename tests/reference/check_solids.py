"""Judges written STL files with trimesh and keeps what it found: python check_solids.py FOLDER."""

import json
import pathlib
import sys

import trimesh

folder = pathlib.Path(sys.argv[1])
found = {}
for path in sorted(folder.glob("*.stl")):
    mesh = trimesh.load(path, process=True)
    low, high = mesh.bounds
    found[path.stem] = {
        "watertight": bool(mesh.is_watertight),
        "faces_out": bool(mesh.is_winding_consistent and mesh.volume > 0.0),
        "bodies": int(mesh.body_count),
        "euler": int(mesh.euler_number),
        "volume": float(f"{mesh.volume:.9g}"),
        "low": [float(f"{part:.7g}") for part in low],
        "high": [float(f"{part:.7g}") for part in high],
    }
target = pathlib.Path(__file__).with_name("solids.json")
lines = [f" {json.dumps(name)}: {json.dumps(values)}" for name, values in found.items()]
target.write_text("{\n" + ",\n".join(lines) + "\n}\n")
print(trimesh.__version__, len(found))
