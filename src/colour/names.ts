// Plain names for colours, as a shop would have them on the bolt. The table is the project's own; a name may stand for several colours.
import { type Lab, labDistance, oklabOfHex } from './oklab.ts';

const TABLE = `white #fcfcfa|cream #f6efd9|cream #eaddcb|ivory #efe9da|light gray #dcdcd8|light gray #e6e6e6|silver gray #bdbdb9|gray #949492
gray #828282|slate gray #6f7478|dark gray #55565a|dark gray #444444|light gray #cccccc|charcoal #3a3a3b|charcoal #292f33|black #0e0e0f
black #1c1c1d|sand #dcc9a3|wheat #e3cf9b|oat #d3c3ac|beige #c8b393|tan #b8945f|tan #b28d77|camel #b98d57|caramel #a9713a|cinnamon #96582f
chestnut #743f25|brown #66452f|light brown #9e765d|golden brown #966200|brown #705d4f|coffee #4f382a|dark brown #37281f
dark brown #241912|taupe #8d7f73|stone #a69d90|mushroom #b7a99b|khaki #9a905f|olive #6f6d34|dark olive #45462a|moss #7f8a45
leaf green #5a8a3c|grass green #72a84a|lime #a9cc4e|pale green #c3d9b0|mint #aedcc3|sage #9aaa8a|forest green #2f5a35
dark green #1f3d2c|dark green #0f2410|dark green #081c00|emerald #1f8a5c|teal #1f7a7a|dark teal #17494d|turquoise #3fb6b2|aqua #8fd6d6
ice blue #d5e8ee|pale blue #b8d3e8|sky blue #84b9e2|cornflower #5f8fd6|bright blue #2f6bd0|royal blue #2747a6|navy #1c2a52
navy #141c33|denim #46638c|steel blue #6d8aa6|dusty blue #8fa4b8|lavender #b9aede|violet #7d57b8|purple #5c2f87|plum #57294d
eggplant #33203a|lilac #cfa9d8|mauve #a3829b|orchid #c267b4|magenta #b82e83|fuchsia #d8408f|rose #d97f93|pale pink #f3cfd3
pink #eeaab6|hot pink #ee5f94|coral #f0775f|salmon #eb9a81|peach #f6c6a2|apricot #f4ad6b|apricot #e49863|blush #e2b9a8|red #d22a2a
scarlet #e8402c|crimson #ab1f3b|dark red #7d1a20|burgundy #561c2a|brick #a2472f|rust #b3532a|terracotta #c46f4b|orange #f0862a
bright orange #fb6a14|pumpkin #d9701f|gold #dba733|mustard #bf952b|amber #f4b02c|sunflower yellow #fac928|yellow #fbe25a
pale yellow #fbf0ac|lemon #f4ec74|dusty rose #b98585|wine #6e2440|fog #cfd3d6|dark slate #33404a`;

const NAMES: readonly (readonly [string, Lab])[] = TABLE.split(/[|\n]/).map((entry) => {
  const cut = entry.lastIndexOf(' ');
  return [entry.slice(0, cut), oklabOfHex(entry.slice(cut + 1))];
});

/** In what is nearly black nobody sees a hue. */
const chroma = ([l, a, b]: Lab): number => Math.hypot(a, b) * Math.min(1, l / 0.2);
/** A gray has less chroma than the first, a plain colour more than the second; what takes one for the other is this far off. */
const GRAY = 0.012;
const COLOURED = 0.016;
const OTHER_KIND = 0.08;
/** A colour whose name is taken takes the next one no farther than this: a farther one would mislead at the counter. */
const NEXT_BEST = (nearest: number): number => 1.3 * nearest + 0.012;

function farFrom(colour: Lab, anchor: Lab): number {
  const gray = Math.min(chroma(colour), chroma(anchor)) < GRAY && Math.max(chroma(colour), chroma(anchor)) > COLOURED;
  return labDistance(colour, anchor) + (gray ? OTHER_KIND : 0);
}

/** A name for each colour, no two alike: nearest pairs are named first; where all near names are taken, "light" or "dark" is set
 *  before the nearest. */
export function nameColours(colours: readonly Lab[]): string[] {
  const pairs = colours.flatMap((c, i) => NAMES.map(([name, lab]) => ({ i, name, d: farFrom(c, lab) })));
  pairs.sort((p, q) => p.d - q.d || p.i - q.i);
  const nearest = colours.map((_, i) => pairs.find((p) => p.i === i)!);
  const names: string[] = new Array<string>(colours.length).fill('');
  const used = new Map<string, number>();
  for (const { i, name, d } of pairs)
    if (!names[i] && !used.has(name) && d <= NEXT_BEST(nearest[i]!.d)) {
      names[i] = name;
      used.set(name, i);
    }
  colours.forEach((c, i) => {
    if (names[i]) return;
    const { name } = nearest[i]!;
    const plain = name.replace(/^(?:light|dark|pale) /, '');
    const lighter = c[0] > colours[used.get(name)!]![0];
    const tries = lighter ? [`light ${plain}`, `pale ${plain}`] : [`dark ${plain}`, `deep ${plain}`];
    names[i] = tries.find((t) => !used.has(t)) ?? `${name} ${i + 1}`;
    used.set(names[i]!, i);
  });
  return names;
}
