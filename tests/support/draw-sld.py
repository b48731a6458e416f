"""Draws layers of a GeoPackage by the SLD that lies in it, each by itself, with PyQGIS.

usage: draw-sld.py FILE.gpkg FOLDER; prints a line of JSON. Exit 3 without PyQGIS.
"""
import json
import os
import sqlite3
import sys

try:
    from qgis.core import (
        QgsApplication,
        QgsMapRendererParallelJob,
        QgsMapSettings,
        QgsVectorLayer,
    )
    from qgis.PyQt.QtCore import QSize
    from qgis.PyQt.QtGui import QColor
except ImportError:
    sys.exit(3)

path, folder = sys.argv[1:]
QgsApplication.setPrefixPath("/usr", True)
app = QgsApplication([], False)
app.initQgis()
told = []
rows = sqlite3.connect(path).execute("select f_table_name, styleSLD from layer_styles")
for name, sld in rows:
    layer = QgsVectorLayer(f"{path}|layername={name}", name, "ogr")
    file = os.path.join(folder, f"{name}.sld")
    with open(file, "w", encoding="utf-8") as out:
        out.write(sld)
    message, taken = layer.loadSldStyle(file)
    settings = QgsMapSettings()
    settings.setLayers([layer])
    settings.setBackgroundColor(QColor(255, 255, 255))
    settings.setOutputSize(QSize(300, 450))
    extent = layer.extent()
    extent.grow(max(extent.width(), extent.height(), 1e-5) * 0.05)
    settings.setExtent(extent)
    settings.setDestinationCrs(layer.crs())
    job = QgsMapRendererParallelJob(settings)
    job.start()
    job.waitForFinished()
    image = job.renderedImage()
    colours = {}
    for x in range(image.width()):
        for y in range(image.height()):
            colour = image.pixelColor(x, y).name()
            colours[colour] = colours.get(colour, 0) + 1
    told.append(
        {
            "name": name,
            "taken": taken,
            "message": message,
            "renderer": layer.renderer().type(),
            "colours": colours,
        }
    )
print(json.dumps(told))
