// @ts-check
// A picture from the tablet's camera: taken by a plain file field, so that nothing is lost while the camera has the screen;
// made smaller here, kept in the outbox, sent like every other record.

const LONG_SIDE = 1600;
const LIMIT = 5 * 1024 * 1024;

/**
 * @param {File} file
 * @returns {Promise<Blob|null>} a JPEG of at most 1,600 px and 5 MB; null when the file is no picture that can be read
 */
export async function smaller(file) {
  try {
    const bitmap = await createImageBitmap(file);
    const scale = Math.min(1, LONG_SIDE / Math.max(bitmap.width, bitmap.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(bitmap.width * scale);
    canvas.height = Math.round(bitmap.height * scale);
    canvas.getContext("2d")?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    const blob = await new Promise((/** @type {(b: Blob|null) => void} */ yes) => canvas.toBlob(yes, "image/jpeg", 0.85));
    return blob && blob.size <= LIMIT ? blob : null;
  } catch {
    return null;
  }
}
