// Follows the pointer from its press on an element until it is let go, in shares of a box on the page.

export function followPointer(
  e: PointerEvent,
  box: Element,
  onMove: (dx: number, dy: number) => void,
  onEnd?: () => void,
): void {
  if (e.button !== 0) return;
  e.preventDefault();
  e.stopPropagation();
  const target = e.currentTarget as HTMLElement;
  target.focus?.();
  target.setPointerCapture(e.pointerId);
  const { width, height } = box.getBoundingClientRect();
  const move = (m: PointerEvent): void => onMove((m.clientX - e.clientX) / width, (m.clientY - e.clientY) / height);
  const end = (): void => {
    target.removeEventListener('pointermove', move);
    target.removeEventListener('pointerup', end);
    target.removeEventListener('pointercancel', end);
    onEnd?.();
  };
  target.addEventListener('pointermove', move);
  target.addEventListener('pointerup', end);
  target.addEventListener('pointercancel', end);
}

/** Shares that the arrow keys mean: 1 % of the picture, with Shift 5 %. */
export function arrowStep(e: KeyboardEvent): readonly [number, number] | undefined {
  const by = e.shiftKey ? 0.05 : 0.01;
  switch (e.key) {
    case 'ArrowLeft':
      return [-by, 0];
    case 'ArrowRight':
      return [by, 0];
    case 'ArrowUp':
      return [0, -by];
    case 'ArrowDown':
      return [0, by];
    default:
      return undefined;
  }
}
