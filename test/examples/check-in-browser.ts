// A page that checks a block file, gives two pieces another fabric, lays out the templates and says what to buy; nothing leaves the browser.
// check-in-browser.html shows it. Serve the folder in which you ran `npm install seamwright`.
import {
  applyChange,
  changeLimits,
  checkBlock,
  defaultSettings,
  layOutTemplates,
  nextEdition,
  planYardage,
  readBlock,
  UserError,
  useFonts,
  writeBlock,
  writeSvg,
} from 'seamwright/block';

const FONTS = 'node_modules/dejavu-fonts-ttf/ttf';

async function fetchBytes(address: string): Promise<Uint8Array> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

/** The text of a block file -> its verdict; where it can be sewn, also the next edition, its sheets as SVG, and what to buy. */
function work(text: string, name: string, pieces: readonly string[], fabric: string) {
  const block = readBlock(text, name);
  const { faults } = checkBlock(block);
  if (faults.length) return { faults, sheets: [] };
  const { paper, margin, allowance, units: system, mostPieces } = defaultSettings('beginner');
  const limits = changeLimits(block, { mostPieces, paper, margin, allowance });
  const changed = nextEdition(block, (before) => applyChange(before, { kind: 'fabric', pieces, fabric }, limits));
  const { sheets } = layOutTemplates(changed, { paper, margin, allowance, system });
  const { shopping } = planYardage([changed], { cloth: { system } });
  return { faults, changed: writeBlock(changed), sheets: sheets.map(writeSvg), buy: shopping.buy };
}

const show = document.querySelector('output')!;
const address = new URLSearchParams(location.search);
try {
  const [regular, bold] = await Promise.all([
    fetchBytes(`${FONTS}/DejaVuSans.ttf`),
    fetchBytes(`${FONTS}/DejaVuSans-Bold.ttf`),
  ]);
  useFonts({ regular, bold });
  const file = address.get('block') ?? 'fox.block.json';
  const text = new TextDecoder().decode(await fetchBytes(file));
  const done = work(text, file, (address.get('pieces') ?? 'A1,A2').split(','), address.get('fabric') ?? 'fb');
  const said = done.faults.length
    ? done.faults.map((fault) => fault.text)
    : [`It can be sewn. ${done.sheets.length} sheets.`, `To buy: ${done.buy}`];
  show.innerHTML = done.sheets.join('');
  show.prepend(said.join('\n'));
  // for whoever looks at the page from outside
  Object.assign(window, { done });
} catch (error) {
  if (!(error instanceof UserError)) throw error;
  show.textContent = error.message;
  Object.assign(window, { done: { problem: error.code } });
}
