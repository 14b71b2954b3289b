// What a table of jobs looks like. Its owner writes two things: a type (names -> what goes in and what comes out), which whoever
// asks imports, and the table itself (names -> functions), which only the threads import.

/** One kind of job. All three must survive being handed from thread to thread (structured clone). */
export interface JobType {
  readonly input: unknown;
  readonly output: unknown;
  /** an early answer, before the whole one */
  readonly part?: unknown;
}

export type JobTypes<J> = { readonly [K in keyof J]: JobType };
export type PartOf<T> = T extends { readonly part: infer P } ? P : never;

/** What a job says while it runs. Long jobs call `stage` or `done` often: both throw once nobody wants the answer any more. */
export interface Told<Part = never> {
  stage(name: string): void;
  /** share of the stage, 0 to 1 */
  done(share: number): void;
  part(part: Part): void;
  /** for jobs that would rather ask than be thrown out */
  readonly cancelled: boolean;
}

export interface Job<Input, Output, Part = never> {
  /** Loads the code that it needs; a second call finds it loaded. */
  load(): Promise<unknown>;
  run(input: Input, told: Told<Part>): Promise<Output>;
}

export type JobTable<J extends JobTypes<J>> = {
  readonly [K in keyof J]: Job<J[K]['input'], J[K]['output'], PartOf<J[K]>>;
};

/** A job whose code is loaded when it is first wanted: a thread is there sooner for whatever comes first. */
export function job<Input, Output, Part, Module>(
  load: () => Promise<Module>,
  run: (module: Module, input: Input, told: Told<Part>) => Output | Promise<Output>,
): Job<Input, Output, Part> {
  let loaded: Promise<Module> | undefined;
  const loadOnce = (): Promise<Module> => (loaded ??= load());
  return { load: loadOnce, run: async (input, told) => run(await loadOnce(), input, told) };
}
