// Reads figures by the grammar of the open format (Internet-Draft draft-richih-opsawg-openmetrics-00, section 4, from memory): refuses
// what does not follow it. Shares nothing with the writer.

const NAME = /^[a-zA-Z_:][a-zA-Z0-9_:]*$/;

/** Values by name and labels. Throws with the line that is wrong. */
export function readMetrics(text: string): Record<string, number> {
  const found: Record<string, number> = {};
  if (!text.endsWith('# EOF\n')) throw new Error('the last line is not "# EOF"');
  const seen = new Set<string>();
  let family = { name: '', type: '' };
  for (const line of text.slice(0, -'# EOF\n'.length).split('\n').slice(0, -1)) {
    const [, kind, name, rest] = /^# (TYPE|UNIT|HELP) (\S+) ([^\n]*)$/.exec(line) ?? [];
    if (kind) {
      if (!NAME.test(name!)) throw new Error(line);
      if (kind === 'TYPE') {
        // families do not interleave
        if (seen.has(name!) || !['counter', 'gauge'].includes(rest!)) throw new Error(line);
        seen.add(name!);
        family = { name: name!, type: rest! };
      } else if (name !== family.name) throw new Error(line);
      if (kind === 'UNIT' && !name!.endsWith(`_${rest}`)) throw new Error(line);
      if (kind === 'HELP' && /(?<!\\)(?:\\\\)*\\(?![\\n"])/.test(rest!)) throw new Error(line);
      continue;
    }
    const sample = /^([^{ ]+)(?:\{(.*)\})? (-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)$/.exec(line);
    if (!sample) throw new Error(line);
    const expected = family.type === 'counter' ? `${family.name}_total` : family.name;
    if (sample[1] !== expected) throw new Error(line);
    const labels = [...(sample[2] ?? '').matchAll(/([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^"\\\n]|\\[\\n"])*)"(?:,|$)/g)];
    if (labels.map((m) => m[0]).join('') !== (sample[2] ?? '')) throw new Error(line);
    const words = labels.map(([, key, value]) => {
      const plain = value!.replace(/\\(.)/g, (_, c: string) => (c === 'n' ? '\n' : c));
      return `${key}=${plain}`;
    });
    found[`${sample[1]}{${words.join(',')}}`] = Number(sample[3]);
  }
  return found;
}
