"""Times GEOS (through Debian's python3-shapely) on the ground of a plan: set-in, opening, difference.

usage: geos-reference.py FILE.geojson SETIN_M HALF_WIDTH_M
The file is in degrees; it is brought to metres before the clock starts. Two ways are timed: the polygon
whole, and split (shell eroded, holes grown, then the difference), which is the faster on many holes.
Prints one JSON object, seconds.
"""
import json, math, sys, time
from shapely.geometry import Polygon
from shapely.ops import unary_union
import shapely.geos

path, setin, half = sys.argv[1], float(sys.argv[2]), float(sys.argv[3])
features = json.load(open(path))["features"]
lon0, lat0 = features[0]["geometry"]["coordinates"][0][0]
kx = 111195 * math.cos(math.radians(lat0))
metres = lambda ring: [((p[0] - lon0) * kx, (p[1] - lat0) * 111195) for p in ring]
lawn = [Polygon(metres(f["geometry"]["coordinates"][0])) for f in features if f["properties"]["role"] == "lawn"]
beds = [Polygon(metres(f["geometry"]["coordinates"][0])) for f in features if f["properties"]["role"] != "lawn"]
shell = unary_union(lawn)
ground = shell.difference(unary_union(beds))

def clock(work):
    best = None
    for _ in range(3):
        t = time.process_time(); result = work(); t = time.process_time() - t
        best = t if best is None else min(best, t)
    return best, result

def parts(area):
    return [area] if area.geom_type == "Polygon" else list(area.geoms)

def split_offset(area, distance):
    """Shell and holes apart; distance below nought shrinks."""
    out = []
    for polygon in parts(area):
        body = Polygon(polygon.exterior).buffer(distance)
        holes = unary_union([Polygon(h).buffer(-distance) for h in polygon.interiors])
        out.append(body.difference(holes))
    return unary_union(out)

def whole():
    inset = ground.buffer(-setin)
    opened = inset.buffer(-half).buffer(half)
    return inset.difference(opened)

def split():
    inset = split_offset(ground, -setin)
    opened = split_offset(split_offset(inset, -half), half)
    return inset.difference(opened)

whole_s, a = clock(whole)
split_s, b = clock(split)
print(json.dumps({"geos": ".".join(map(str, shapely.geos.geos_version)), "whole_s": round(whole_s, 3), "split_s": round(split_s, 3), "leftover_m2": [round(a.area, 3), round(b.area, 3)]}))
