/** A georeferenced picture beneath the map, and a veil over it so that lines stand out. */
import ImageLayer from "ol/layer/Image.js";
import ImageCanvasSource from "ol/source/ImageCanvas.js";
import type { PagePicture } from "../../model/page-data.ts";
import type { MapView } from "./map-view.ts";

const VEIL = 0.35;

export function layPicture(map: MapView, { url, toGrid }: PagePicture): void {
  const image = new Image();
  const sources: ImageCanvasSource[] = [];
  image.addEventListener("load", () => {
    for (const source of sources) source.changed();
  });
  image.src = url;
  const make = () => {
    const source = new ImageCanvasSource({
      projection: map.projection,
      ratio: 1,
      canvasFunction: (extent, resolution, ratio, size) => {
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = size as [number, number];
        const context = canvas.getContext("2d");
        if (!context || !image.complete || image.naturalWidth === 0) return canvas;
        const [west, , , north] = extent as [number, number, number, number];
        const perMetre = ratio / resolution;
        const [a, b, c, d, e, f] = toGrid;
        const { naturalWidth: w, naturalHeight: h } = image;
        // From cells of the picture to metres, from metres to pixels: y points down in both pictures.
        context.setTransform(
          (a * perMetre) / w,
          (-b * perMetre) / w,
          (c * perMetre) / h,
          (-d * perMetre) / h,
          (e - west) * perMetre,
          (north - f) * perMetre,
        );
        context.drawImage(image, 0, 0);
        context.globalAlpha = VEIL;
        context.fillStyle = map.look.isDark ? "#000000" : "#ffffff";
        context.fillRect(0, 0, w, h);
        return canvas;
      },
    });
    sources.push(source);
    return new ImageLayer({ source });
  };
  map.setPicture(make);
}
