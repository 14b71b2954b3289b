// Smooths an image but keeps its edges: fur, grass and noise go, what a person would draw stays.
// Takes and gives sRGB bytes, width x height x 3. Without a library: loading one would take longer than the work.

/** Bilateral filter (Tomasi & Manduchi 1998): each pixel becomes the mean of those within `reach` pixels, weighed by how near
 *  and how alike they are: Gaussians of `reach` pixels and of `colours` (sum of the channels' differences, 0..765). Beyond
 *  the frame the picture is mirrored. */
export function smoothEdges(
  rgb: Uint8Array,
  width: number,
  height: number,
  reach: number,
  colours: number,
): Uint8Array {
  const r = Math.ceil(reach);
  const alike = new Float32Array(3 * 255 + 1);
  for (let d = 0; d < alike.length; d++) alike[d] = Math.exp((-d * d) / (2 * colours * colours));
  // the picture with its mirrored rim, so that no pixel is a special case
  const W = width + 2 * r;
  const wide = new Uint8Array(3 * W * (height + 2 * r));
  for (let y = -r, o = 0; y < height + r; y++) {
    const row = 3 * width * mirror(y, height);
    for (let x = -r; x < width + r; x++, o += 3) {
      const i = row + 3 * mirror(x, width);
      wide[o] = rgb[i]!;
      wide[o + 1] = rgb[i + 1]!;
      wide[o + 2] = rgb[i + 2]!;
    }
  }
  const steps: number[] = [];
  const near: number[] = [];
  for (let dy = -r; dy <= r; dy++)
    for (let dx = -r; dx <= r; dx++) {
      if (dx * dx + dy * dy > r * r) continue;
      steps.push(3 * (dy * W + dx));
      near.push(Math.exp(-(dx * dx + dy * dy) / (2 * reach * reach)));
    }
  const offsets = Int32Array.from(steps);
  const weights = Float32Array.from(near);
  const out = new Uint8Array(rgb.length);
  for (let y = 0, o = 0; y < height; y++)
    for (let x = 0, i = 3 * ((y + r) * W + r); x < width; x++, i += 3, o += 3) {
      const R = wide[i]!;
      const G = wide[i + 1]!;
      const B = wide[i + 2]!;
      let sum = 0;
      let red = 0;
      let green = 0;
      let blue = 0;
      for (let t = 0; t < offsets.length; t++) {
        const j = i + offsets[t]!;
        const p = wide[j]!;
        const q = wide[j + 1]!;
        const s = wide[j + 2]!;
        const k = weights[t]! * alike[Math.abs(p - R) + Math.abs(q - G) + Math.abs(s - B)]!;
        sum += k;
        red += k * p;
        green += k * q;
        blue += k * s;
      }
      out[o] = Math.round(red / sum);
      out[o + 1] = Math.round(green / sum);
      out[o + 2] = Math.round(blue / sum);
    }
  return out;
}

/** 2 1 0 1 2 … n-1 n-2: the rim once only. */
function mirror(i: number, n: number): number {
  if (n === 1) return 0;
  const j = Math.abs(i) % (2 * n - 2);
  return j < n ? j : 2 * n - 2 - j;
}
