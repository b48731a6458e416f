"""Writes src/crs/area-shifts.data.ts: each published shift of a datum with its area.

Source: the EPSG dataset as shipped with PROJ (proj.db; made with PROJ 9.1.1, dataset v10.076).

    python3 scripts/make-area-shifts.py /usr/share/proj/proj.db
"""

import json
import math
import re
import sqlite3
import sys

# Methods: geocentric translations, position vector, coordinate frame, on 2D or 3D degrees.
TRANSLATION, POSITION_VECTOR, COORDINATE_FRAME = {9603, 9604, 1031, 1035}, {9606, 1033, 1037}, {9607, 1032, 1038}
ARC_SECONDS = {9101: 180 / math.pi * 3600, 9104: 1.0, 9109: 1e-6 * 180 / math.pi * 3600, 1031: 1e-3, 9113: 1e-4 * 0.9 * 3600}
PER_MILLION = {9202: 1.0, 1028: 1e-3}

QUERY = """
select g.name, d.name, h.code, h.method_code, h.accuracy, h.tx, h.ty, h.tz, h.rx, h.ry, h.rz, h.rotation_uom_code,
       h.scale_difference, h.scale_difference_uom_code, h.translation_uom_code,
       e.west_lon, e.south_lat, e.east_lon, e.north_lat
from helmert_transformation h
join geodetic_crs g on g.auth_name = 'EPSG' and g.code = h.source_crs_code
join geodetic_datum d on d.auth_name = 'EPSG' and d.code = g.datum_code
join usage u on u.object_table_name = 'helmert_transformation' and u.object_auth_name = 'EPSG' and u.object_code = h.code
join extent e on e.auth_name = u.extent_auth_name and e.code = u.extent_code
where h.auth_name = 'EPSG' and h.deprecated = 0 and h.target_crs_code in (4326, 4258) and h.source_crs_auth_name = 'EPSG'
  and not exists (select 1 from supersession s where s.superseded_table_name = 'helmert_transformation'
    and s.superseded_auth_name = 'EPSG' and s.superseded_code = h.code and s.same_source_target_crs = 1)
  and h.rate_tx is null and h.px is null and h.accuracy is not null
order by g.name, h.code
"""


def numbers(row):
    method, rotation_unit, scale_unit = int(row[3]), row[11], row[13]
    shift = [row[5], row[6], row[7]]
    if int(row[14]) != 9001:
        return None
    if method in TRANSLATION:
        return shift
    if method not in POSITION_VECTOR | COORDINATE_FRAME or int(rotation_unit) not in ARC_SECONDS:
        return None
    sign = 1 if method in POSITION_VECTOR else -1
    turns = [sign * value * ARC_SECONDS[int(rotation_unit)] for value in row[8:11]]
    return shift + turns + [row[12] * PER_MILLION[int(scale_unit)]]


def short(value):
    return re.sub(r"\.?0+$", "", f"{value:.7f}") or "0"


groups = {}
for row in sqlite3.connect(sys.argv[1]).execute(QUERY):
    shift = numbers(row)
    if shift is None:
        continue
    text = " ".join("0" if short(value) == "-0" else short(value) for value in shift)
    box = " ".join(f"{value:g}" for value in row[15:19])
    groups.setdefault(f"{row[0]}|{row[1]}", []).append((row[4], int(row[2]), text, box))

lines = []
for names, rows in sorted(groups.items()):
    # Datums within a few metres of WGS 84 are taken as it.
    if all(max(abs(float(value)) for value in text.split()[:3]) < 5 for _, _, text, _ in rows):
        continue
    best = {}
    for accuracy, code, text, box in sorted(rows):
        best.setdefault((text, box), f"{accuracy:g} {code}; {text}; {box}")
    lines.append(f"  {json.dumps(names, ensure_ascii=False)}: [" + ", ".join(map(json.dumps, best.values())) + "],")
print(f"""/**
 * Published shifts to WGS 84 (or ETRS89) by area, by names of the datum (system, datum): accuracy in metres and
 * EPSG transformation; numbers as `+towgs84` wants them; west, south, east, north in degrees.
 *
 * Made by scripts/make-area-shifts.py from the EPSG dataset v10.076 as shipped with PROJ 9.1.1.
 */
export const AREA_SHIFT_ROWS: Readonly<Record<string, readonly string[]>> = {{
""" + "\n".join(lines) + "\n};")
