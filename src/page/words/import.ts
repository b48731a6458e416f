/** Words of taking files into the page, in English and in German: same keys, same placeholders. */
export const IMPORT_EN = {
  "panel.import": "Files",
  "import.intro":
    "Choose the files of a site, or let them fall onto the page: GeoJSON, KML, KMZ, GPX, shapefiles (zipped, or all their parts), GeoPackage, FlatGeobuf, DXF, survey points. They are read and planned here; nothing leaves this page.",
  "import.choose": "Choose files…",
  "import.drop": "Let the files fall: a site to plan, or a plan to compare with",
  "import.reading": "Reading {count, plural, one {# file} other {# files}}…",
  "import.planning": "Planning…",
  "import.found": "What is in them",
  "import.count": "{count, plural, one {# feature} other {# features}}",
  "import.asFound": "as read: {role}",
  "import.noRole": "nothing known",
  "import.extent": "Extent {width} × {height}",
  "import.crs": "Reference system: {crs}",
  "import.noCrs": "Reference system not known",
  "import.findings": "Noticed while reading",
  "import.add": "Add to this site",
  "import.replace": "Plan as another site",
  "import.replaceNote":
    "Another site takes the place of this one; machine, prices and rules stay. Save first what you want to keep.",
  "import.cancel": "Put away",
  "import.leftOver": "Left out, since their .shp is missing: {names}",
  "import.done": "Planned: {wire} of wire, {pegs, plural, one {# peg} other {# pegs}}.",
  "import.fault": "The planner of this page does not work here: {message}",
} as const;

export const IMPORT_DE: Readonly<Record<keyof typeof IMPORT_EN, string>> = {
  "panel.import": "Dateien",
  "import.intro":
    "Die Dateien eines Grundstücks wählen oder auf die Seite fallen lassen: GeoJSON, KML, KMZ, GPX, Shapefiles (gezippt oder mit allen Teilen), GeoPackage, FlatGeobuf, DXF, Aufmaßpunkte. Gelesen und geplant wird hier; nichts verlässt diese Seite.",
  "import.choose": "Dateien wählen…",
  "import.drop": "Dateien fallen lassen: ein Grundstück zum Planen oder ein Plan zum Vergleichen",
  "import.reading": "{count, plural, one {# Datei wird} other {# Dateien werden}} gelesen…",
  "import.planning": "Wird geplant…",
  "import.found": "Was darin ist",
  "import.count": "{count, plural, one {# Objekt} other {# Objekte}}",
  "import.asFound": "wie gelesen: {role}",
  "import.noRole": "nichts bekannt",
  "import.extent": "Ausdehnung {width} × {height}",
  "import.crs": "Bezugssystem: {crs}",
  "import.noCrs": "Bezugssystem nicht bekannt",
  "import.findings": "Beim Lesen bemerkt",
  "import.add": "Zu diesem Grundstück nehmen",
  "import.replace": "Als anderes Grundstück planen",
  "import.replaceNote":
    "Ein anderes Grundstück tritt an die Stelle von diesem; Maschine, Preise und Regeln bleiben. Vorher sichern, was bleiben soll.",
  "import.cancel": "Weglegen",
  "import.leftOver": "Ausgelassen, weil ihre .shp fehlt: {names}",
  "import.done": "Geplant: {wire} Draht, {pegs, plural, one {# Nagel} other {# Nägel}}.",
  "import.fault": "Der Planer dieser Seite arbeitet hier nicht: {message}",
};
