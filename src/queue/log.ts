// What happens at the queue, event by event: for people in a few words, for programs as lines of JSON.

export type Fields = Readonly<Record<string, string | number | boolean | readonly string[]>>;
export type Log = (event: EventName, fields: Fields) => void;

/** Every event that there is, and how a person is told of it; some are for programs alone. */
const EVENTS = {
  stage: undefined,
  step: undefined,
  'series-opened': undefined,
  'series-closed': undefined,
  'workers-seen': undefined,
  'job-settled': undefined,
  'job-failed-for-good': undefined,
  'lot-dealt': undefined,
  'queue-lost': () => 'The queue does not answer. Waiting for it to come back …',
  'queue-back': () => 'The queue is back.',
  'worker-started': (f: Fields) => `Ready for pictures from ${f.queue}, ${f.threads} at a time. Ctrl-C stops.`,
  'job-taken': undefined,
  'job-done': (f: Fields) => `${f.label}: ${f.what} in ${Number(f.seconds).toFixed(1)} s`,
  'job-refused': (f: Fields) => `${f.label}: ${f.why}`,
  'job-again': (f: Fields) => `${f.label}: ${f.why}. It will be tried again.`,
  'job-given-back': (f: Fields) => `${f.label}: given back`,
  'job-not-wanted': (f: Fields) => `${f.label}: not wanted any more`,
  'worker-stopped': () => 'Stopped.',
} satisfies Readonly<Record<string, ((f: Fields) => string) | undefined>>;

export type EventName = keyof typeof EVENTS;

export const noLog: Log = () => {};

export const logWords =
  (say: (line: string) => void): Log =>
  (event, fields) => {
    const words = EVENTS[event]?.(fields);
    if (words) say(words);
  };

/** One object a line: the time by the calendar (RFC 3339), the event, and what belongs to it. */
export const logLines =
  (say: (line: string) => void): Log =>
  (event, fields) =>
    say(JSON.stringify({ time: new Date().toISOString(), event, ...fields }));
