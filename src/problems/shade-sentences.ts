// What can be wrong with lists of fabrics, and with regions that were made elsewhere.
type File = { file: string };
type InList = { file: string; at: string };

const GREY = 'it must be a greyscale PNG, one grey value a cell = place in the list of fabrics';

export const SHADE_SENTENCES = {
  'fabrics-not-json': (v: File) =>
    `${v.file} is not a list of fabrics: it is not JSON; see the block file's "fabrics" for the form.`,
  'fabrics-json-damaged': (v: File) =>
    `${v.file} is not a list of fabrics: its JSON is damaged; a line for each fabric, "name,#rrggbb", will do too.`,
  'no-list-of-fabrics': (v: File) =>
    `${v.file} holds no list of fabrics; each needs a name and a colour such as "#3a3a38".`,
  'wrong-fabric': (v: InList & { why: string }) =>
    `${v.file}: ${v.at}: ${v.why}; each fabric needs a name and a colour such as "#3a3a38".`,
  'fabric-needs-name': (v: InList & { most: number }) =>
    `${v.file}, ${v.at}: a fabric needs a name of 1 to ${v.most} characters.`,
  'fabric-needs-colour': (v: InList & { name: string }) =>
    `${v.file}, ${v.at}: write the colour of "${v.name}" as #rrggbb, for example #3a3a38.`,
  'no-such-print': (v: InList & { name: string }) =>
    `${v.file}, ${v.at}: the print of "${v.name}" is "directional", "large" or nothing.`,
  'fabric-twice': (v: { file: string; key: 'id' | 'code' | 'name'; value: string }) =>
    v.key === 'name'
      ? `${v.file}: two fabrics are called "${v.value}"; give each a name of its own.`
      : `${v.file}: two fabrics have the ${v.key} "${v.value}"; give each its own.`,
  'no-fabric-in-file': (v: File) => `${v.file} holds no fabric.`,
  'too-many-fabrics': (v: { file: string; fabrics: number; most: number }) =>
    `${v.file} holds ${v.fabrics} fabrics; ${v.most} are the most: leave out what you would not use.`,
  'one-fabric': (_: object) => 'A block needs at least two fabrics; list one more.',

  'regions-not-png': (v: File) => `${v.file} is not a PNG; ${GREY}.`,
  'regions-unreadable': (v: { file: string; mostCells: number }) =>
    `${v.file} cannot be read or has more than ${v.mostCells} cells; ${GREY}.`,
  'regions-not-grey': (v: File) => `${v.file} is not 8-bit greyscale; ${GREY}.`,
  'regions-too-small': (v: { file: string; cells: readonly [number, number] }) =>
    `${v.file} is only ${v.cells.join(' x ')} cells; ${GREY}.`,
  'regions-damaged': (v: File) => `${v.file} is damaged or cut off; ${GREY}.`,
  'no-fabric-for-value': (v: {
    file: string;
    value: number;
    column: number;
    row: number;
    list: string;
    fabrics: number;
  }) =>
    `${v.file} has the value ${v.value} at column ${v.column}, row ${v.row}, but ${v.list} lists only ${v.fabrics} fabrics (values 0 to ${v.fabrics - 1}).`,
} as const;
