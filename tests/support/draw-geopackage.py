"""Opens a GeoPackage with PyQGIS, takes the styles that lie in it, and draws it.

usage: draw-geopackage.py FILE.gpkg PICTURE.png; prints a line of JSON. Exit 3 without PyQGIS.
"""
import json
import sqlite3
import sys

try:
    from qgis.core import (
        QgsApplication,
        QgsMapRendererParallelJob,
        QgsMapSettings,
        QgsRectangle,
        QgsVectorLayer,
    )
    from qgis.PyQt.QtCore import QSize
    from qgis.PyQt.QtGui import QColor
except ImportError:
    sys.exit(3)

path, picture = sys.argv[1:]
QgsApplication.setPrefixPath("/usr", True)
app = QgsApplication([], False)
app.initQgis()
rows = sqlite3.connect(path).execute(
    "select table_name from gpkg_contents where data_type = 'features'"
)
layers, told = [], []
for (name,) in rows:
    layer = QgsVectorLayer(f"{path}|layername={name}", name, "ogr")
    _, styled = layer.loadDefaultStyle()
    layers.append(layer)
    told.append(
        {
            "name": name,
            "valid": layer.isValid(),
            "count": layer.featureCount(),
            "crs": layer.crs().authid(),
            "styled": styled,
        }
    )
settings = QgsMapSettings()
settings.setLayers(layers)
settings.setBackgroundColor(QColor(255, 255, 255))
settings.setOutputSize(QSize(600, 900))
extent = QgsRectangle()
for layer in layers:
    extent.combineExtentWith(layer.extent())
extent.scale(1.05)
settings.setExtent(extent)
settings.setDestinationCrs(layers[0].crs())
job = QgsMapRendererParallelJob(settings)
job.start()
job.waitForFinished()
image = job.renderedImage()
image.save(picture)
colours = {}
for x in range(image.width()):
    for y in range(image.height()):
        name = image.pixelColor(x, y).name()
        colours[name] = colours.get(name, 0) + 1
print(json.dumps({"layers": told, "colours": colours}))
