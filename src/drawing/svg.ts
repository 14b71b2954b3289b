// A Drawing -> SVG in true millimetres (width and height in mm, viewBox in the same numbers), grouped by role so that a
// cutter or an editor can pick the lines it needs.
import { BLACK, type Drawing, type Item, MM_PER_PT, type Stroke } from './drawing.ts';
import { FONT_FAMILY, measureText, UNDERLINE } from './fonts.ts';

const n = (v: number): string => String(Math.round(v * 1e4) / 1e4 + 0);
export const escapeXml = (s: string): string =>
  s.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);

/** Without Node's own means: this also runs in a browser. In parts, since a call takes only so many arguments. */
function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}

function look(stroke: Stroke | undefined, fill: string | undefined): string {
  let s = ` fill="${fill ?? 'none'}"`;
  if (fill) s += ' fill-rule="evenodd"';
  if (stroke) {
    s += ` stroke="${stroke.colour ?? BLACK}" stroke-width="${n(stroke.width)}"`;
    if (stroke.dash) s += ` stroke-dasharray="${n(stroke.dash[0])} ${n(stroke.dash[1])}"`;
  }
  return s;
}

class SvgWriter {
  private clips = 0;
  private readonly names = new Map<string, number>();

  /** An id that is used once: "seam", "seam-2" … */
  private id(name: string): string {
    const base = name.trim().replace(/[^\p{L}\p{N}]+/gu, '-') || 'item';
    const count = (this.names.get(base) ?? 0) + 1;
    this.names.set(base, count);
    return count === 1 ? base : `${base}-${count}`;
  }

  list(items: readonly Item[]): string {
    let out = '';
    let open = '';
    for (const it of items) {
      const own = it.kind === 'group' || it.kind === 'clip';
      const role = own ? '' : it.role;
      if (role !== open) {
        if (open) out += '</g>\n';
        if (role) out += `<g id="${this.id(role)}" class="${role}">\n`;
        open = role;
      }
      out += this.item(it);
    }
    return open ? `${out}</g>\n` : out;
  }

  private item(it: Item): string {
    switch (it.kind) {
      case 'group':
        return `<g id="${escapeXml(this.id(it.name))}" class="${it.role}">\n${this.list(it.items)}</g>\n`;
      case 'clip': {
        const id = `clip-${++this.clips}`;
        const d = path([it.ring], true);
        return `<clipPath id="${id}"><path d="${d}"/></clipPath>\n<g clip-path="url(#${id})">\n${this.list(it.items)}</g>\n`;
      }
      case 'path':
        return `<path d="${path(it.rings, it.closed)}"${look(it.stroke, it.fill)}/>\n`;
      case 'circle':
        return `<circle cx="${n(it.centre[0])}" cy="${n(it.centre[1])}" r="${n(it.radius)}"${look(it.stroke, it.fill)}/>\n`;
      case 'image': {
        const data = base64(it.file);
        const kind = it.file[0] === 0xff ? 'jpeg' : 'png';
        return `<image x="${n(it.at[0])}" y="${n(it.at[1])}" width="${n(it.width)}" height="${n(it.height)}" href="data:image/${kind};base64,${data}"/>\n`;
      }
      case 'text': {
        const size = it.size * MM_PER_PT;
        const turn = it.turn % 360 ? ` transform="rotate(${n(it.turn)} ${n(it.at[0])} ${n(it.at[1])})"` : '';
        const { width } = measureText(it.text, it.size, it.font);
        const x = it.at[0] - (it.align === 'start' ? 0 : it.align === 'middle' ? width / 2 : width);
        const weight = it.font === 'bold' ? ' font-weight="bold"' : '';
        const words = `<text x="${n(x)}" y="${n(it.at[1])}" font-family="'${FONT_FAMILY}', Verdana, sans-serif"${weight} font-size="${n(size)}" fill="${it.colour ?? BLACK}"${turn} xml:space="preserve">${escapeXml(it.text)}</text>\n`;
        if (!it.underline) return words;
        const y = it.at[1] + UNDERLINE.drop * size;
        return `${words}<rect x="${n(x)}" y="${n(y)}" width="${n(width)}" height="${n(UNDERLINE.thickness * size)}" fill="${it.colour ?? BLACK}"${turn}/>\n`;
      }
    }
  }
}

function path(rings: readonly (readonly (readonly [number, number])[])[], closed: boolean): string {
  return rings.map((r) => `M${r.map((q) => `${n(q[0])} ${n(q[1])}`).join('L')}${closed ? 'Z' : ''}`).join('');
}

/** The drawing as an SVG document. */
export function writeSvg(drawing: Drawing): string {
  const [w, h] = [n(drawing.width), n(drawing.height)];
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}">
<title>${escapeXml(drawing.title)}</title>
${new SvgWriter().list(drawing.items)}</svg>
`;
}
