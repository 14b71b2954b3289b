// In a browser no font lies anywhere: a page hands its bytes to `useFonts`.
import type { FaceName } from './drawing.ts';

/** Nothing: no file is installed. */
export const readFontFile = (_name: FaceName): Uint8Array | undefined => undefined;
