// A whole shade: its name, its colour, the cloth it is sewn in.
import { useRef } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Work } from '../../api.ts';
import { TextField } from '../parts/text-field.tsx';
import { attempt, change, setLook } from '../store/actions.ts';
import type { BlockFabric } from '../store/facts.ts';
import { server } from '../store/server.ts';

export function WholeShades({ work, block }: { readonly work: Work; readonly block: Block }) {
  return (
    <>
      <p class="hint">Another name or colour, or a snapshot of the cloth that you will sew it in.</p>
      <ul class="shades-list">
        {block.fabrics.map((f) => (
          <Shade key={f.id} work={work} fabric={f} />
        ))}
      </ul>
    </>
  );
}

function Shade({ work, fabric }: { readonly work: Work; readonly fabric: BlockFabric }) {
  const chooser = useRef<HTMLInputElement>(null);
  const bring = async (file: File): Promise<void> => {
    const cloth = await attempt(`looking at ${file.name}`, () => server.cloth(work.id, file));
    if (cloth?.id && (await change({ kind: 'cloth', fabric: fabric.id, cloth: cloth.id }))) setLook({ cloth: true });
  };
  return (
    <li>
      <span class="code">{fabric.code}</span>
      <label>
        <span class="visually-hidden">Colour of {fabric.name}</span>
        <input
          type="color"
          value={fabric.colour}
          onChange={(e) => void change({ kind: 'colour', fabric: fabric.id, colour: e.currentTarget.value })}
        />
      </label>
      <TextField
        kind="shade-name"
        unseen
        label={`Name of ${fabric.code}`}
        value={fabric.name}
        onTake={(name) => {
          if (name && name !== fabric.name) void change({ kind: 'rename', fabric: fabric.id, name });
        }}
      />
      <button type="button" onClick={() => chooser.current?.click()}>
        Your cloth …<span class="visually-hidden"> for {fabric.name}</span>
      </button>
      <input
        ref={chooser}
        class="visually-hidden"
        type="file"
        tabIndex={-1}
        accept="image/*,.heic,.heif"
        aria-label={`Snapshot of cloth for ${fabric.name}`}
        onChange={(e) => {
          const file = e.currentTarget.files?.[0];
          e.currentTarget.value = '';
          if (file) void bring(file);
        }}
      />
    </li>
  );
}
