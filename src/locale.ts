// What people are used to where the program runs: their paper and their units.
import type { Settings } from './settings/settings.ts';
import type { System } from './units.ts';

const locale = (): string =>
  process.env.LC_ALL ?? process.env.LC_PAPER ?? process.env.LANG ?? Intl.DateTimeFormat().resolvedOptions().locale;

/** Where people measure in inches and print on Letter. */
const isAmerican = (): boolean => /[-_](US|CA|MX|PH)\b/.test(locale());

/** As it was asked for; else the unit of a size that was given; else what the locale is used to. */
export function systemOf(given?: System, size = ''): System {
  if (given) return given;
  if (/(in|inch|inches|"|″)\s*$/i.test(size)) return 'inch';
  if (/[cm]m\s*$/i.test(size)) return 'metric';
  return isAmerican() ? 'inch' : 'metric';
}

/** Paper and units where nothing was said about them. */
export const localSettings = (units?: System, size?: string): Pick<Settings, 'paper' | 'units'> => ({
  paper: isAmerican() ? 'letter' : 'a4',
  units: systemOf(units, size),
});
