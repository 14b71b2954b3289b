// The part of the WebAssembly interface that the fit uses: Node has it, its types do not say so.
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    readonly exports: Readonly<Record<string, unknown>>;
    constructor(module: Module, imports: object);
  }
  interface Memory {
    readonly buffer: ArrayBuffer;
  }
}
