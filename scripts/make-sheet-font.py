"""Writes src/export/sheet/font/*.data.ts: the lettering of drawings, cut down, and its widths.

Source: Arimo Regular and Bold, SIL Open Font License 1.1, no reserved name, as in the npm package
@expo-google-fonts/arimo 0.4.3. Needs fontTools (tried with 4.66.1). Features of layout and hinting
are taken out: what is measured by widths alone is what is drawn.

    python3 scripts/make-sheet-font.py Arimo_400Regular.ttf Arimo_700Bold.ttf
"""

import base64
import io
import sys
import zlib

from fontTools import subset
from fontTools.ttLib import TTFont

OUT = "src/export/sheet/font"
RANGES = [
    (0x20, 0x7E), (0xA0, 0x24F), (0x259, 0x259), (0x2C6, 0x2C7), (0x2D8, 0x2DD), (0x370, 0x4FF),
    (0x1E00, 0x1EFF), (0x2010, 0x2015), (0x2018, 0x201E), (0x2020, 0x2022), (0x2026, 0x2026),
    (0x2030, 0x2030), (0x2032, 0x2033), (0x2039, 0x203A), (0x2044, 0x2044), (0x20AC, 0x20AC),
    (0x2116, 0x2116), (0x2122, 0x2122), (0x2126, 0x2126), (0x2190, 0x2195), (0x2212, 0x2212),
    (0x2215, 0x2215), (0x221E, 0x221E), (0x2248, 0x2248), (0x2260, 0x2260), (0x2264, 0x2265),
    (0x25A1, 0x25A1), (0x25CA, 0x25CA), (0xFFFD, 0xFFFD),
]


def cut(path):
    options = subset.Options()
    options.layout_features = []
    options.hinting = False
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "DSIG", "STAT", "meta"]
    options.recalc_timestamp = False
    font = subset.load_font(path, options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[c for first, last in RANGES for c in range(first, last + 1)])
    cutter.subset(font)
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def widths(data):
    """Runs of characters: the first in base 36, then the widths in units of 1/2048 em."""
    font = TTFont(io.BytesIO(data))
    metrics, runs, last = font["hmtx"], [], None
    for code, glyph in sorted(font.getBestCmap().items()):
        if last is None or code != last + 1:
            runs.append([code, []])
        runs[-1][1].append(metrics[glyph][0])
        last = code
    digits = "0123456789abcdefghijklmnopqrstuvwxyz"

    def base36(n):
        return digits[n] if n < 36 else base36(n // 36) + digits[n % 36]

    return [base36(code) + ":" + " ".join(map(base36, ws)) for code, ws in runs]


faces = dict(zip(["REGULAR", "BOLD"], map(cut, sys.argv[1:3])))
with open(f"{OUT}/arimo.data.ts", "w") as out:
    out.write("/**\n * Arimo, cut down to Latin, Greek and Cyrillic: TrueType, deflated (zlib), base64.\n"
              " * SIL Open Font License 1.1 (OFL.txt). Made by scripts/make-sheet-font.py.\n */\n")
    for name, data in faces.items():
        text = base64.b64encode(zlib.compress(data, 9)).decode()
        out.write(f'export const ARIMO_{name} =\n  "{text}";\n')
with open(f"{OUT}/arimo-widths.data.ts", "w") as out:
    out.write("/**\n * Widths of Arimo: for each run of characters the first one, then widths in 1/2048 em, base 36.\n"
              " * Made by scripts/make-sheet-font.py.\n */\n")
    for name, data in faces.items():
        rows = "".join(f'  "{row}",\n' for row in widths(data))
        out.write(f"export const {name}_WIDTHS: readonly string[] = [\n{rows}];\n")
