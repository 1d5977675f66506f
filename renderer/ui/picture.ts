/** Dots of a picture for each of a drawing's own: 640 of them, 16 cm wide, then print at 300 an inch. */
const DOTS = 3;

/** A drawing in SVG, with width and height in px, as a picture in PNG. */
export async function pngOf(svg: string): Promise<Blob> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = image.naturalWidth * DOTS;
  canvas.height = image.naturalHeight * DOTS;
  const context = canvas.getContext('2d');
  if (!context) throw new Error('picture: found no drawing context; one is expected');
  context.fillStyle = '#fff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => {
      if (blob) resolve(blob);
      else reject(new Error(`picture: found none of ${canvas.width} × ${canvas.height}`));
    }, 'image/png');
  });
}
