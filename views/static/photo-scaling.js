/*
 * Makes a photo small enough for one bar of signal: at most 1600 pixels on its longer side, as JPEG. Drawing it anew also
 * leaves behind where it was taken. What this browser cannot draw stays as it is; the server has the last word.
 */
const LONGER_SIDE = 1600;
const QUALITY = 0.82;
/** The server takes no more. */
export const MOST_BYTES = 10_000_000;

/**
 * @param {Blob} file
 * @returns {Promise<Blob>} a copy, which no longer depends on the file; it may still be too big
 */
export async function scalePhoto(file) {
  try {
    const image = await createImageBitmap(file, { imageOrientation: "from-image" });
    const shrink = Math.min(1, LONGER_SIDE / Math.max(image.width, image.height));
    const [width, height] = [image.width, image.height].map((side) => Math.max(1, Math.round(side * shrink)));
    const canvas = Object.assign(document.createElement("canvas"), { width, height });
    const drawing = canvas.getContext("2d");
    // What is see-through would become black.
    drawing.fillStyle = "#fff";
    drawing.fillRect(0, 0, width, height);
    drawing.drawImage(image, 0, 0, width, height);
    image.close();
    const scaled = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
    if (scaled !== null) return scaled;
  } catch {
    // No image that this browser knows.
  }
  return new Blob([await file.arrayBuffer()], { type: file.type });
}
