// The page as a person uses it, in a real browser, with the built program behind it. One browser for all of it.
import { testByHand } from './by-hand.ts';
import { testComingIn } from './coming-in.ts';
import { testControls } from './controls.ts';
import { testEditor } from './editor.ts';
import { testEveryone } from './everyone.ts';
import { testFace } from './face.ts';
import { testHeld } from './held.ts';
import { testKept } from './kept.ts';
import { shareBrowser } from './opened.ts';
import { testSewing } from './sew-and-compare.ts';
import { testWholeWay } from './whole-way.ts';

shareBrowser();
testWholeWay();
testControls();
testFace();
testByHand();
testEditor();
testHeld();
testSewing();
testKept();
testEveryone();
testComingIn();
