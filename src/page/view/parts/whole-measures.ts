/** "2 1/4 in" is never parted at the end of a line: what is left of it would be another measure. */
export const wholeMeasures = (words: string): string => words.replace(/(\d) (?=\d+\/\d)/g, '$1\u00a0');
