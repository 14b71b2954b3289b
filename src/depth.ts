// How deep JSON is nested, told from its text: what walks through it later would end in the middle.

/** How deep brackets lie within one another, strings left out: counted before anything walks through them. */
export function depthOf(text: string): number {
  let [depth, most, quoted] = [0, 0, false];
  for (let i = 0; i < text.length; i++) {
    const c = text[i];
    if (quoted) {
      if (c === '\\') i++;
      else if (c === '"') quoted = false;
    } else if (c === '"') quoted = true;
    else if (c === '{' || c === '[') most = Math.max(most, ++depth);
    else if (c === '}' || c === ']') depth--;
  }
  return most;
}
