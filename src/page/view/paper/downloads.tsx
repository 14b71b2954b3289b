// The packet first, in one click; the other files after it.
import type { Format, Work } from '../../api.ts';
import { at } from '../store/server.ts';

const OTHERS: readonly { readonly format: Format; readonly title: string; readonly what: string }[] = [
  { format: 'block.json', title: 'Block file', what: 'to keep, to pass on, to open here again' },
  { format: 'preview.png', title: 'Picture of the block', what: 'PNG' },
  { format: 'sections-svg.zip', title: 'Sections for an editor or a cutter', what: 'SVG, true size' },
  { format: 'sections-dxf.zip', title: 'Sections for a cutter', what: 'DXF, true size' },
  { format: 'sheets-png.zip', title: 'Template sheets as pictures', what: 'PNG, 300 dots to the inch' },
  { format: 'fabric.csv', title: 'Cutting list as a table', what: 'CSV' },
];

export function Downloads({ work }: { readonly work: Work }) {
  if (!work.block) return <p>There is no block to print yet.</p>;
  const metric = work.settings.units === 'metric';
  const early = work.stage === 'waiting' || work.stage === 'coarse';
  return (
    <>
      <a class="button main-button" href={at.file(work.id, 'packet.pdf')} download>
        Save the packet (PDF)
      </a>
      <p class="print-rule">
        <strong>Print it at 100 %</strong> (“actual size”), on one side.{' '}
        {metric ? 'Measure the 10 cm ruler' : 'Measure the 1 in square and the rulers'} on the first template sheet
        before you sew.
      </p>
      {early && <p class="hint">The block is still being worked out; the packet is made of the finished one.</p>}
      <details class="other-files">
        <summary>Other files</summary>
        <ul class="plain-list">
          {OTHERS.map((o) => (
            <li key={o.format}>
              <a href={at.file(work.id, o.format)} download>
                {o.title}
              </a>{' '}
              <span class="hint">{o.what}</span>
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}
