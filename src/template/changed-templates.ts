// Which printed templates a change of the block has made useless: those that would be drawn in another way now.
import type { Block } from '../block.ts';
import { findContacts } from './contacts.ts';
import { turnLeftRight } from './printed-side.ts';
import { drawTemplate, type TemplateOptions } from './template.ts';

export interface ChangedTemplates {
  /** drawn in another way, or new: print these */
  readonly changed: readonly string[];
  /** no longer there */
  readonly gone: readonly string[];
}

/** Section ids, in the order of the block. */
export function changedTemplates(before: Block, after: Block, options: TemplateOptions): ChangedTemplates {
  const [old, now] = [drawn(before, options), drawn(after, options)];
  return {
    changed: [...now].filter(([id, text]) => old.get(id) !== text).map(([id]) => id),
    gone: [...old.keys()].filter((id) => !now.has(id)),
  };
}

function drawn(block: Block, options: TemplateOptions): ReadonlyMap<string, string> {
  const printed = turnLeftRight(block);
  const contacts = findContacts(printed);
  return new Map(
    printed.sections.map((s) => {
      const { cut, items } = drawTemplate(printed, s, contacts.get(s.id)!, options);
      return [s.id, JSON.stringify({ cut, items })];
    }),
  );
}
