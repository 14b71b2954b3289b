// What the system says of files and folders, in words: the one place where its codes become sentences.

const WHY: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is used up',
  EROFS: 'the disk can only be read',
  EACCES: 'you are not allowed to',
  EPERM: 'you are not allowed to',
  ENOENT: 'it is not there',
  ENOTDIR: 'a part of its path is a file, not a folder',
  EISDIR: 'it is a folder',
  EEXIST: 'it is there already',
  ENOTEMPTY: 'the folder is not empty',
  EMFILE: 'too many files are open; close other programs',
  ENFILE: 'too many files are open; close other programs',
  ENAMETOOLONG: 'its name is too long',
  ELOOP: 'links lead round in a circle',
  EBUSY: 'another program is using it',
  ETXTBSY: 'another program is using it',
  EFBIG: 'the file is too large for this disk',
  EIO: 'the disk does not answer',
  ENXIO: 'it is no ordinary file',
  ENODEV: 'the disk is not there any more',
  EXDEV: 'it lies on another disk',
  EINVAL: 'the system does not take this name',
  EILSEQ: 'the system does not take this name',
  ENOTSUP: 'this disk cannot do it',
  EOPNOTSUPP: 'this disk cannot do it',
};

/** Whether the system refused something, rather than the program having a fault. */
export const isSystemError = (e: unknown): e is NodeJS.ErrnoException =>
  e instanceof Error && Object.hasOwn(WHY, systemCode(e));

/** An error that came from a thread has its message alone: "ENOSPC: no space left on device, write". */
const systemCode = (e: Error): string =>
  (e as NodeJS.ErrnoException).code ?? /^([A-Z][A-Z0-9]+): /.exec(e.message)?.[1] ?? '';

/** Why the system refused, as the end of a sentence without its full stop. */
export const whySystem = (e: unknown): string =>
  e instanceof Error ? (WHY[systemCode(e)] ?? e.message.replace(/\s+/g, ' ').replace(/\.$/, '')) : String(e);
