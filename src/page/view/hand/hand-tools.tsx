// What a press on the block means. Beside it where there is room, under it on a narrow window.
import { Icon, type IconName } from '../parts/icon.tsx';
import { put, type Tool, usePart } from '../store/state.ts';

const TOOLS: readonly {
  readonly tool: Tool;
  readonly label: string;
  readonly name: string;
  readonly icon: IconName;
}[] = [
  { tool: 'pick', label: 'Pick', name: 'Pick pieces', icon: 'pick' },
  { tool: 'loop', label: 'Loop', name: 'Loop around pieces', icon: 'loop' },
  { tool: 'divide', label: 'Divide', name: 'Divide a piece', icon: 'divide' },
  { tool: 'move', label: 'Seam', name: 'Seam: move it', icon: 'seam' },
  { tool: 'pan', label: 'Pan', name: 'Pan the view', icon: 'pan' },
];

export function HandTools() {
  const now = usePart((s) => s.tool);
  return (
    <div class="hand-tools" role="toolbar" aria-label="Tools">
      {TOOLS.map((t) => (
        <button
          key={t.tool}
          type="button"
          aria-label={t.name}
          title={t.name}
          aria-pressed={now === t.tool}
          onClick={() => put({ tool: now === t.tool ? 'pick' : t.tool, line: undefined, seam: undefined })}
        >
          <Icon name={t.icon} />
          <span aria-hidden="true">{t.label}</span>
        </button>
      ))}
    </div>
  );
}
