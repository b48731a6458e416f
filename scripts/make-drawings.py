"""Makes the drawings in tests/fixtures/dxf, an invented garden out at sea, and what is in them.

Run with Python and ezdxf (made with 1.4.4), and ogr2ogr (made with GDAL 3.6.2) on the path:

    python3 scripts/make-drawings.py

For every layer `garden.expected.json` holds length and enclosed area of each shape, measured by
ezdxf on chords within 1e-6 of the curve, and what GDAL reads: how many features, of which type.
"""

import json
import math
import subprocess
from pathlib import Path

import ezdxf
from ezdxf import units
from ezdxf.math import Vec3

E, N = 500_000.0, 4_900_000.0
FOLDER = Path("tests/fixtures/dxf")


def at(x, y, z=None):
    return (E + x, N + y) if z is None else (E + x, N + y, z)


def draw():
    doc = ezdxf.new("R2010", setup=False)
    doc.units = units.M
    msp = doc.modelspace()
    for name in ["Lawn", "Beds", "Pond", "Trees", "Fence", "Paths", "Kerb", "Terrain", "Paving"]:
        doc.layers.add(name)
    doc.layers.get("Fence").off()
    doc.layers.get("Kerb").freeze()

    # A lawn with rounded ends, one corner bulged inwards, at a stated height.
    msp.add_lwpolyline(
        [at(0, 0) + (0,), at(40, 0) + (0.41421356237309503,), at(45, 5) + (0,), at(45, 25) + (-0.3,),
         at(0, 25) + (1,)],
        format="xyb", close=True, dxfattribs={"layer": "Lawn", "elevation": 12.5})
    # The same sort of outline as an old POLYLINE with bulges.
    msp.add_polyline2d([at(60, 0) + (0,), at(80, 0) + (0.5,), at(80, 20) + (-0.25,), at(60, 20) + (0,)],
                       format="xyb", close=True, dxfattribs={"layer": "Lawn"})
    msp.add_polyline3d([at(0, 30, 10), at(10, 31, 10.5), at(20, 30, 11.25)], dxfattribs={"layer": "Terrain"})
    # A ring of lines and arcs, drawn in no order, some backwards; ends meet.
    msp.add_line(at(100, 0), at(110, 0), dxfattribs={"layer": "Beds"})
    msp.add_arc(at(110, 5), 5, 270, 90, dxfattribs={"layer": "Beds"})
    msp.add_line(at(100, 10), at(110, 10), dxfattribs={"layer": "Beds"})
    msp.add_line(at(100, 10), at(100, 0), dxfattribs={"layer": "Beds"})
    # Open lines: a fork, where nobody can tell which goes on into which.
    for end in [(130, 0), (125, 8), (125, -8)]:
        msp.add_line(at(120, 0), at(*end), dxfattribs={"layer": "Paths"})
    msp.add_circle(at(20, 12), 3.25, dxfattribs={"layer": "Pond"})
    # A circle drawn from below: its plane faces down, so that x is mirrored.
    msp.add_circle((-(E + 30), N + 12), 1.5, dxfattribs={"layer": "Pond", "extrusion": (0, 0, -1)})
    msp.add_arc((-(E + 30), N + 18), 2, 30, 100, dxfattribs={"layer": "Kerb", "extrusion": (0, 0, -1)})
    msp.add_ellipse(at(10, 12), major_axis=(3, 1.5), ratio=0.4, dxfattribs={"layer": "Beds"})
    msp.add_ellipse(at(10, 18), major_axis=(0, 2), ratio=0.7, start_param=0.4, end_param=4.1,
                    dxfattribs={"layer": "Kerb"})
    msp.add_spline(degree=3, dxfattribs={"layer": "Beds"}).apply_construction_tool(
        ezdxf.math.BSpline([at(60, 30, 0), at(66, 38, 0), at(74, 22, 0), at(80, 30, 0), at(84, 36, 0)]))
    msp.add_rational_spline([at(90, 30, 0), at(95, 30, 0), at(95, 35, 0)], weights=[1, math.sqrt(0.5), 1], degree=2,
                            dxfattribs={"layer": "Beds"})
    # Hatches: bulged polyline with an island; and edges of every sort.
    hatch = msp.add_hatch(dxfattribs={"layer": "Paving"})
    hatch.paths.add_polyline_path([at(0, 50) + (0,), at(20, 50) + (0.2,), at(20, 60) + (0,), at(0, 60) + (0,)],
                                  is_closed=True, flags=1)
    hatch.paths.add_polyline_path([at(5, 53) + (1,), at(7, 53) + (1,)], is_closed=True, flags=16)
    hatch = msp.add_hatch(dxfattribs={"layer": "Paving"})
    edges = hatch.paths.add_edge_path()
    edges.add_line(at(40, 50), at(50, 50))
    edges.add_arc(at(50, 53), 3, -90, 90, ccw=True)
    edges.add_line(at(50, 56), at(46, 56))
    edges.add_ellipse(at(43, 56), major_axis=(3, 0), ratio=0.5, start_angle=0, end_angle=180, ccw=True)
    edges.add_spline(control_points=[at(40, 56), at(39, 54), at(41, 52), at(40, 50)], degree=3,
                     knot_values=[0, 0, 0, 0, 1, 1, 1, 1])
    hatch = msp.add_hatch(dxfattribs={"layer": "Paving"})
    edges = hatch.paths.add_edge_path()
    edges.add_line(at(60, 50), at(60, 56))
    edges.add_arc(at(63, 56), 3, 0, 180, ccw=False)
    edges.add_line(at(66, 56), at(66, 50))
    edges.add_line(at(66, 50), at(60, 50))
    msp.add_solid([at(80, 50), at(84, 50), at(80, 53), at(84, 54)], dxfattribs={"layer": "Paving"})
    # Trees: a block within a block, turned, mirrored, scaled, in an array; its circle on layer 0.
    trunk = doc.blocks.new("TRUNK", base_point=(1, 1))
    trunk.add_circle((1, 1), 0.2)
    trunk.add_lwpolyline([(1, 1), (1.5, 1), (1.5, 1.25)], dxfattribs={"layer": "Kerb"})
    tree = doc.blocks.new("TREE", base_point=(0, 0))
    tree.add_blockref("TRUNK", (0, 0), dxfattribs={"rotation": 30})
    tree.add_point((0.5, 0))
    tree.add_text("oak").set_placement((0, 0))
    msp.add_blockref("TREE", at(15, 20, 3), dxfattribs={"layer": "Trees", "rotation": 90})
    msp.add_blockref("TRUNK", at(25, 20), dxfattribs={"layer": "Trees", "xscale": -2, "yscale": 1.5, "rotation": 15})
    msp.add_blockref("TREE", at(60, 70), dxfattribs={
        "layer": "Trees", "rotation": 20, "row_count": 2, "column_count": 3, "row_spacing": 4, "column_spacing": 5})
    msp.add_blockref("TREE", (-(E + 90), N + 70), dxfattribs={"layer": "Trees", "extrusion": (0, 0, -1), "rotation": 10})
    msp.add_line(at(-2, -2), at(50, -2), dxfattribs={"layer": "Fence"})
    msp.add_text("Front lawn", dxfattribs={"layer": "Lawn"}).set_placement(at(5, 5))
    msp.add_mtext("Back", dxfattribs={"layer": "Lawn"}).set_location(at(5, 8))
    doc.layout("Layout1").add_line((0, 0), (100, 0))
    return doc


def leaves(entity, layer):
    if entity.dxftype() != "INSERT":
        yield entity, layer
        return
    copies = entity.multi_insert() if entity.mcount > 1 else [entity]
    for copy in copies:
        for part in copy.virtual_entities():
            inner = layer if part.dxf.layer == "0" else part.dxf.layer
            yield from leaves(part, inner)


def flat(entity):
    """Points of a curve on itself: ezdxf's general paths would be Bezier curves beside it."""
    kind = entity.dxftype()
    if kind == "LINE":
        return [entity.dxf.start, entity.dxf.end]
    if kind in ("LWPOLYLINE", "POLYLINE"):
        points = []
        for part in entity.virtual_entities():
            piece = list(flat(part))
            if points and points[-1].distance(piece[0]) > points[-1].distance(piece[-1]):
                piece.reverse()
            points += piece
        return points
    if kind == "ELLIPSE":
        return dense(entity.construction_tool())
    return entity.flattening(1e-6)


def dense(tool):
    if not hasattr(tool, "start_param"):
        return [Vec3(p) for p in tool.flattening(1e-6)]
    start, end = tool.start_param, tool.end_param
    end = end if end > start else end + math.tau
    return list(tool.vertices([start + (end - start) * i / 20_000 for i in range(20_001)]))


def hatch_rings(hatch):
    hatch.paths.polyline_to_edge_paths(just_with_bulge=False)
    for path in hatch.paths:
        ring = []
        for edge in path.edges:
            tool = None if edge.EDGE_TYPE == "LineEdge" else edge.construction_tool()
            points = [Vec3(edge.start), Vec3(edge.end)] if tool is None else dense(tool)
            if ring and ring[-1].distance(points[0]) > ring[-1].distance(points[-1]):
                points.reverse()
            ring += points
        yield ring if ring[0].isclose(ring[-1]) else ring + [ring[0]]


def measure(points):
    length = sum(math.hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(points, points[1:]))
    x0, y0 = points[0][0], points[0][1]
    twice = sum((a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0) for a, b in zip(points, points[1:]))
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return {"length": length, "area": abs(twice) / 2, "box": [min(xs), min(ys), max(xs), max(ys)]}


def rounded(value):
    if isinstance(value, dict):
        return {key: rounded(each) for key, each in value.items()}
    if isinstance(value, list):
        return [rounded(each) for each in value]
    return round(value, 7) if isinstance(value, float) else value


def expected(doc):
    layers = {}
    for entity in doc.modelspace():
        for leaf, layer in leaves(entity, entity.dxf.layer):
            kind = leaf.dxftype()
            if kind in ("TEXT", "MTEXT"):
                continue
            if kind == "POINT":
                place = leaf.dxf.location
                shapes = [{"length": 0, "area": 0, "box": [place.x, place.y, place.x, place.y]}]
            elif kind == "HATCH":
                whole = [measure(ring) for ring in hatch_rings(leaf)]
                shapes = [{"length": sum(one["length"] for one in whole),
                           "area": whole[0]["area"] - sum(one["area"] for one in whole[1:]),
                           "box": whole[0]["box"]}]
            elif kind == "SOLID":
                corners = leaf.wcs_vertices()
                shapes = [measure(corners + [corners[0]])]
            else:
                shapes = [measure(list(flat(leaf)))]
            layers.setdefault(layer, []).extend({"entity": kind, **one} for one in shapes)
    return layers


def gdal(file):
    text = subprocess.run(["ogr2ogr", "-f", "GeoJSON", "/vsistdout/", str(file)], capture_output=True, check=True).stdout
    counts = {}
    for feature in json.loads(text)["features"]:
        layer = feature["properties"]["Layer"]
        kind = (feature["geometry"] or {"type": "null"})["type"]
        counts.setdefault(layer, {})
        counts[layer][kind] = counts[layer].get(kind, 0) + 1
    return counts


if __name__ == "__main__":
    FOLDER.mkdir(parents=True, exist_ok=True)
    doc = draw()
    file = FOLDER / "garden.dxf"
    doc.saveas(file)
    result = {"madeWith": f"ezdxf {ezdxf.__version__}",
              "gdal": subprocess.run(["ogr2ogr", "--version"], capture_output=True, text=True).stdout.strip(),
              "layers": expected(doc), "gdalCounts": gdal(file)}
    (FOLDER / "garden.expected.json").write_text(json.dumps(rounded(result), indent=1) + "\n")
    # The same outlines from GDAL: another writer, and no unit in the header.
    subprocess.run(["ogr2ogr", "-f", "DXF", str(FOLDER / "by-gdal.dxf"), "fixtures/demo/house-garden.geojson"], check=True)
