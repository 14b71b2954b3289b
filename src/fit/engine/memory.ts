// Rows of numbers at fixed places in memory, so that reading one costs no more than in C. Nothing is checked: an index past the
// end reads a neighbour. AssemblyScript: this folder is compiled to WebAssembly (`npm run engine`).

@unmanaged
export class Doubles {
  @operator('[]') get(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + ((<usize>i) << 3));
  }
  @operator('[]=') set(i: i32, v: f64): void {
    store<f64>(changetype<usize>(this) + ((<usize>i) << 3), v);
  }
}

@unmanaged
export class Ints {
  @operator('[]') get(i: i32): i32 {
    return load<i32>(changetype<usize>(this) + ((<usize>i) << 2));
  }
  @operator('[]=') set(i: i32, v: i32): void {
    store<i32>(changetype<usize>(this) + ((<usize>i) << 2), v);
  }
}

@unmanaged
export class Bytes {
  @operator('[]') get(i: i32): i32 {
    return <i32>load<u8>(changetype<usize>(this) + <usize>i);
  }
  @operator('[]=') set(i: i32, v: i32): void {
    store<u8>(changetype<usize>(this) + <usize>i, <u8>v);
  }
}

let taken: usize = __heap_base;

/** Room for so many bytes, which is never given back: an engine fits one picture. */
export function room(bytes: usize): usize {
  const at = (taken + 15) & ~(<usize>15);
  taken = at + bytes;
  const lacking = <isize>taken - ((<isize>memory.size()) << 16);
  if (lacking > 0 && memory.grow(<i32>((lacking + 0xffff) >> 16)) < 0) unreachable();
  return at;
}
