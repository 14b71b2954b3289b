// The bar of the first screen and of a series: the name, the way back to all projects, light or dark.
import { homeAddress } from '../store/address.ts';
import { usePart } from '../store/state.ts';
import { SchemeChoice } from './scheme-choice.tsx';

export function TopBar() {
  const home = usePart((s) => s.address.screen === 'home');
  return (
    <header class="top-bar">
      <a class="brand" href={homeAddress} aria-current={home ? 'page' : undefined}>
        <img src="icon.svg" alt="" width="32" height="32" />
        <span>Seamwright</span>
        {!home && <span class="to-home">All projects</span>}
      </a>
      <SchemeChoice />
    </header>
  );
}
