/**
 * Loops over the first trials of columns. Each is a function of its own, so that the compiler sees one kind of argument
 * in it and nothing else, and four trials make a turn of it, since a turn costs as much as an addition. The result may
 * be written over an operand.
 */

/** a + b. */
export function add(out: Float64Array, a: Float64Array, b: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! + b[i]!;
    out[i + 1] = a[i + 1]! + b[i + 1]!;
    out[i + 2] = a[i + 2]! + b[i + 2]!;
    out[i + 3] = a[i + 3]! + b[i + 3]!;
  }
  for (; i < count; i++) out[i] = a[i]! + b[i]!;
}

/** a − b. */
export function subtract(out: Float64Array, a: Float64Array, b: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! - b[i]!;
    out[i + 1] = a[i + 1]! - b[i + 1]!;
    out[i + 2] = a[i + 2]! - b[i + 2]!;
    out[i + 3] = a[i + 3]! - b[i + 3]!;
  }
  for (; i < count; i++) out[i] = a[i]! - b[i]!;
}

/** a·b. */
export function multiply(out: Float64Array, a: Float64Array, b: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! * b[i]!;
    out[i + 1] = a[i + 1]! * b[i + 1]!;
    out[i + 2] = a[i + 2]! * b[i + 2]!;
    out[i + 3] = a[i + 3]! * b[i + 3]!;
  }
  for (; i < count; i++) out[i] = a[i]! * b[i]!;
}

/** a/b. */
export function divide(out: Float64Array, a: Float64Array, b: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! / b[i]!;
    out[i + 1] = a[i + 1]! / b[i + 1]!;
    out[i + 2] = a[i + 2]! / b[i + 2]!;
    out[i + 3] = a[i + 3]! / b[i + 3]!;
  }
  for (; i < count; i++) out[i] = a[i]! / b[i]!;
}

/** a/b, a the same in every trial. */
export function divideInto(out: Float64Array, a: number, b: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a / b[i]!;
    out[i + 1] = a / b[i + 1]!;
    out[i + 2] = a / b[i + 2]!;
    out[i + 3] = a / b[i + 3]!;
  }
  for (; i < count; i++) out[i] = a / b[i]!;
}

/** a/b, b the same in every trial. */
export function divideBy(out: Float64Array, a: Float64Array, b: number, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! / b;
    out[i + 1] = a[i + 1]! / b;
    out[i + 2] = a[i + 2]! / b;
    out[i + 3] = a[i + 3]! / b;
  }
  for (; i < count; i++) out[i] = a[i]! / b;
}

/** a·by. */
export function scale(out: Float64Array, a: Float64Array, by: number, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! * by;
    out[i + 1] = a[i + 1]! * by;
    out[i + 2] = a[i + 2]! * by;
    out[i + 3] = a[i + 3]! * by;
  }
  for (; i < count; i++) out[i] = a[i]! * by;
}

/** a·by + to. */
export function shift(out: Float64Array, a: Float64Array, by: number, to: number, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = a[i]! * by + to;
    out[i + 1] = a[i + 1]! * by + to;
    out[i + 2] = a[i + 2]! * by + to;
    out[i + 3] = a[i + 3]! * by + to;
  }
  for (; i < count; i++) out[i] = a[i]! * by + to;
}

/** out + ca·a. */
export function accumulate(out: Float64Array, ca: number, a: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i]! += ca * a[i]!;
    out[i + 1]! += ca * a[i + 1]!;
    out[i + 2]! += ca * a[i + 2]!;
    out[i + 3]! += ca * a[i + 3]!;
  }
  for (; i < count; i++) out[i]! += ca * a[i]!;
}

/** constant + ca·a + cb·b. */
export function combineTwo(
  out: Float64Array,
  constant: number,
  ca: number,
  a: Float64Array,
  cb: number,
  b: Float64Array,
  count: number,
): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = constant + ca * a[i]! + cb * b[i]!;
    out[i + 1] = constant + ca * a[i + 1]! + cb * b[i + 1]!;
    out[i + 2] = constant + ca * a[i + 2]! + cb * b[i + 2]!;
    out[i + 3] = constant + ca * a[i + 3]! + cb * b[i + 3]!;
  }
  for (; i < count; i++) out[i] = constant + ca * a[i]! + cb * b[i]!;
}

/** constant + ca·a + cb·b + cc·c. */
export function combineThree(
  out: Float64Array,
  constant: number,
  ca: number,
  a: Float64Array,
  cb: number,
  b: Float64Array,
  cc: number,
  c: Float64Array,
  count: number,
): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = constant + ca * a[i]! + cb * b[i]! + cc * c[i]!;
    out[i + 1] = constant + ca * a[i + 1]! + cb * b[i + 1]! + cc * c[i + 1]!;
    out[i + 2] = constant + ca * a[i + 2]! + cb * b[i + 2]! + cc * c[i + 2]!;
    out[i + 3] = constant + ca * a[i + 3]! + cb * b[i + 3]! + cc * c[i + 3]!;
  }
  for (; i < count; i++) out[i] = constant + ca * a[i]! + cb * b[i]! + cc * c[i]!;
}

/** out + ca·a + cb·b + cc·c. */
export function accumulateThree(
  out: Float64Array,
  ca: number,
  a: Float64Array,
  cb: number,
  b: Float64Array,
  cc: number,
  c: Float64Array,
  count: number,
): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i]! += ca * a[i]! + cb * b[i]! + cc * c[i]!;
    out[i + 1]! += ca * a[i + 1]! + cb * b[i + 1]! + cc * c[i + 1]!;
    out[i + 2]! += ca * a[i + 2]! + cb * b[i + 2]! + cc * c[i + 2]!;
    out[i + 3]! += ca * a[i + 3]! + cb * b[i + 3]! + cc * c[i + 3]!;
  }
  for (; i < count; i++) out[i]! += ca * a[i]! + cb * b[i]! + cc * c[i]!;
}

/** √a. */
export function root(out: Float64Array, a: Float64Array, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = Math.sqrt(a[i]!);
    out[i + 1] = Math.sqrt(a[i + 1]!);
    out[i + 2] = Math.sqrt(a[i + 2]!);
    out[i + 3] = Math.sqrt(a[i + 3]!);
  }
  for (; i < count; i++) out[i] = Math.sqrt(a[i]!);
}

/** out·by + to, by from trial to trial. */
export function spread(out: Float64Array, by: Float64Array, to: number, count: number): void {
  let i = 0;
  for (; i + 3 < count; i += 4) {
    out[i] = out[i]! * by[i]! + to;
    out[i + 1] = out[i + 1]! * by[i + 1]! + to;
    out[i + 2] = out[i + 2]! * by[i + 2]! + to;
    out[i + 3] = out[i + 3]! * by[i + 3]! + to;
  }
  for (; i < count; i++) out[i] = out[i]! * by[i]! + to;
}
