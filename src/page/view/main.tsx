import { render } from 'preact';

render(<main>x</main>, document.getElementById('page')!);
