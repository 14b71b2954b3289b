// Plain names for colours, as one would ask for them at the cutting counter. The table is the project's own.
import { type Lab, labDistance, oklabOfHex } from './oklab.ts';

const TABLE = `white #fcfcfa|cream #f6efd9|ivory #efe9da|pearl grey #dcdcd8|silver grey #bdbdb9|mid grey #949492|slate grey #6f7478
dark grey #55565a|charcoal #3a3a3b|soft black #232324|black #0e0e0f|sand #dcc9a3|wheat #e3cf9b|oat #d3c3ac|beige #c8b393|tan #b8945f
camel #b98d57|caramel #a9713a|cinnamon #96582f|chestnut #743f25|brown #66452f|coffee #4f382a|dark brown #37281f|taupe #8d7f73
stone #a69d90|mushroom #b7a99b|khaki #9a905f|olive #6f6d34|dark olive #45462a|moss #7f8a45|leaf green #5a8a3c|grass green #72a84a
lime #a9cc4e|pale green #c3d9b0|mint #aedcc3|sage #9aaa8a|forest green #2f5a35|bottle green #1f3d2c|emerald #1f8a5c|teal #1f7a7a
dark teal #17494d|turquoise #3fb6b2|aqua #8fd6d6|ice blue #d5e8ee|pale blue #b8d3e8|sky blue #84b9e2|cornflower #5f8fd6|bright blue #2f6bd0
royal blue #2747a6|navy #1c2a52|ink blue #141c33|denim #46638c|steel blue #6d8aa6|dusty blue #8fa4b8|lavender #b9aede|violet #7d57b8
purple #5c2f87|plum #57294d|aubergine #33203a|lilac #cfa9d8|mauve #a3829b|orchid #c267b4|magenta #b82e83|fuchsia #d8408f|rose #d97f93
pale pink #f3cfd3|pink #eeaab6|hot pink #ee5f94|coral #f0775f|salmon #eb9a81|peach #f6c6a2|apricot #f4ad6b|blush #e2b9a8|red #d22a2a
scarlet #e8402c|crimson #ab1f3b|dark red #7d1a20|burgundy #561c2a|brick #a2472f|rust #b3532a|terracotta #c46f4b|orange #f0862a
bright orange #fb6a14|pumpkin #d9701f|gold #dba733|mustard #bf952b|amber #f4b02c|sunflower yellow #fac928|yellow #fbe25a
pale yellow #fbf0ac|lemon #f4ec74|dusty rose #b98585|wine #6e2440|smoke #848a90|fog #cfd3d6|dark slate #33404a`;

const NAMES: readonly (readonly [string, Lab])[] = TABLE.split(/[|\n]/).map((entry) => {
  const cut = entry.lastIndexOf(' ');
  return [entry.slice(0, cut), oklabOfHex(entry.slice(cut + 1))];
});

/** A name for each colour, no two alike: nearest pairs are named first. */
export function nameColours(colours: readonly Lab[]): string[] {
  const pairs = colours.flatMap((c, i) => NAMES.map(([name, lab]) => ({ i, name, d: labDistance(c, lab) })));
  pairs.sort((p, q) => p.d - q.d || p.i - q.i);
  const names: string[] = new Array<string>(colours.length).fill('');
  const used = new Set<string>();
  for (const { i, name } of pairs)
    if (!names[i] && !used.has(name)) {
      names[i] = name;
      used.add(name);
    }
  return names.map((name, i) => name || `colour ${i + 1}`);
}
