// Files that are dropped or pasted anywhere on the page begin works; a text that is pasted into a field is left alone.
import { useEffect } from 'preact/hooks';
import { beginAll } from '../store/actions.ts';

export function useBroughtFiles(): void {
  useEffect(() => {
    const bring = (e: Event, files: FileList | undefined): void => {
      if (!files?.length) return;
      e.preventDefault();
      void beginAll([...files]);
    };
    const paste = (e: ClipboardEvent): void => bring(e, e.clipboardData?.files);
    // without this the browser would leave the page for the file
    const drag = (e: DragEvent): void => e.preventDefault();
    const drop = (e: DragEvent): void => {
      e.preventDefault();
      bring(e, e.dataTransfer?.files);
    };
    addEventListener('paste', paste);
    addEventListener('dragover', drag);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('paste', paste);
      removeEventListener('dragover', drag);
      removeEventListener('drop', drop);
    };
  }, []);
}
