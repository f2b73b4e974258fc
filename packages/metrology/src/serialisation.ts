import type { DeviateSurface } from "./deviate-surface.ts";
import { implicitRoot } from "./implicit-root.ts";
import type { Kernel } from "./kernel.ts";
import { mappedMean } from "./mapped-mean.ts";
import { type Distribution, type EvaluationType, Model } from "./model.ts";
import { Operation, type OperationCode } from "./operations.ts";
import { Program } from "./program.ts";
import { structuralFit } from "./structural-fit.ts";
import { Scalar, type Tape } from "./tape.ts";
import { Unit } from "./unit.ts";

/** A tape as plain data. Column by column, as it is kept: the numbers compress well. What is no number stands as null. */
interface StoredTape {
  readonly operations: readonly number[];
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly c: readonly (number | null)[];
  readonly units: readonly string[];
  readonly names: readonly (readonly [node: number, key: string, symbol: string, label: string])[];
}

/** A surface as plain data. */
interface StoredSurface {
  readonly orders: readonly number[];
  readonly coefficients: readonly number[];
  readonly degrees: readonly number[];
}

/** A model as plain data, fit for JSON: it evaluates to the same bits when it is read back (but for signs of zeros). */
export interface StoredModel {
  readonly version: 1;
  readonly tape: StoredTape;
  /** Values of the inputs, by node; null for what is no number. */
  readonly inputs: readonly (readonly [node: number, value: number | null])[];
  readonly blocks: readonly {
    readonly key: string;
    readonly type: EvaluationType;
    readonly names: readonly (string | null)[];
    readonly first: number;
    readonly covariance: readonly number[];
    /** null for infinite. */
    readonly dof: number | null;
    readonly group: string;
    readonly unknown: boolean;
    readonly distribution: Distribution;
    readonly surface?: StoredSurface;
  }[];
  readonly constants: readonly (readonly [node: number, derivedFrom: string | null])[];
  /** Which of the constants Monte Carlo leaves out; absent where there are none. */
  readonly meanShifts?: readonly number[];
  readonly columns: readonly {
    readonly series: string;
    readonly name: string;
    readonly symbol: string;
    readonly unit: string;
    readonly readings: readonly string[];
    /** null where the reading is left out and its cell holds no number. */
    readonly values: readonly (number | null)[];
    readonly derivedFrom?: string;
  }[];
  readonly programs: readonly {
    readonly tape: StoredTape;
    readonly columns: number;
    readonly scalars: number;
    readonly outputs: readonly number[];
  }[];
  readonly calls: readonly {
    readonly kind: string;
    /** The specification; a program stands as its number in `programs`. */
    readonly spec: unknown;
    readonly inputs: readonly number[];
    readonly first: number;
    readonly count: number;
  }[];
}

const KERNELS: readonly Kernel<unknown>[] = [mappedMean, structuralFit, implicitRoot];

/**
 * A model as plain data.
 * @throws RangeError where a number is infinite: JSON has none, and null would turn it into something else.
 */
export function store(model: Model): StoredModel {
  const programs: Program[] = [];
  const number = (program: Program) => {
    if (!programs.includes(program)) programs.push(program);
    return programs.indexOf(program);
  };
  const calls = model.calls.map(({ kernel, spec, inputs, first, count }) => ({
    kind: kernel.kind,
    spec: hasProgram(spec) ? { ...spec, program: number(spec.program as Program) } : spec,
    inputs: [...inputs],
    first,
    count,
  }));
  const inputs: [number, number | null][] = [];
  model.tape.operations.forEach((operation, node) => {
    if (operation === Operation.input) inputs.push([node, toCell(model.values[node]!)]);
  });
  return {
    version: 1,
    tape: storeTape(model.tape),
    inputs,
    blocks: model.blocks.map(
      ({ key, type, elements, first, covariance, dof, group, unknown, distribution, surface }) => ({
        key,
        type,
        names: elements.map(({ name }) => name ?? null),
        first,
        covariance: [...covariance],
        dof: Number.isFinite(dof) ? dof : null,
        group,
        unknown,
        distribution,
        ...(surface && { surface: plainSurface(surface()) }),
      }),
    ),
    constants: [...model.constants].map(([node, derivedFrom]) => [node, derivedFrom ?? null]),
    ...(model.meanShifts.size > 0 && { meanShifts: [...model.meanShifts] }),
    columns: model.columns.map(({ unit, readings, values, ...column }) => ({
      ...column,
      unit: unit.symbol,
      readings: [...readings],
      values: Array.from(values, toCell),
    })),
    programs: programs.map(({ tape, columns, scalars, outputs }) => ({
      tape: storeTape(tape),
      columns: columns.length,
      scalars: scalars.length,
      outputs: [...outputs],
    })),
    calls,
  };
}

/**
 * A model from plain data, evaluated again while it is read.
 * @throws RangeError where the data were written by another version, or name a kernel that does not exist.
 */
export function restore(stored: StoredModel): Model {
  const version: number = stored.version;
  if (version !== 1) throw new RangeError(`a stored model of version ${version} cannot be read: this one reads 1`);
  const model = new Model();
  const { tape } = model;
  const programs = stored.programs.map(restoreProgram);
  for (const { unit, values, ...column } of stored.columns)
    model.column({ ...column, unit: Unit.parse(unit), values: values.map(fromCell) });
  const names = new Map(stored.tape.names.map(([node, key, symbol, label]) => [node, { key, symbol, label }]));
  const inputs = new Map(stored.inputs.map(([node, value]) => [node, fromCell(value)]));
  const blocks = new Map(stored.blocks.map((block) => [block.first, block]));
  const constants = new Map(stored.constants);
  const units = stored.tape.units.map((unit) => Unit.parse(unit));
  for (let node = 0; node < stored.tape.operations.length; ) {
    const operation = stored.tape.operations[node] as OperationCode;
    const block = blocks.get(node);
    if (block) {
      const elements = block.names.map((name, i) => ({
        ...(name !== null && { name }),
        symbol: names.get(node + i)!.symbol,
        label: names.get(node + i)!.label,
        unit: units[node + i]!,
        value: inputs.get(node + i)!,
      }));
      const { surface, ...rest } = block;
      model.estimates({
        ...rest,
        elements,
        dof: block.dof ?? Number.POSITIVE_INFINITY,
        ...(surface && { surface: () => surfaceOf(surface) }),
      });
      node += elements.length;
      continue;
    }
    if (constants.has(node)) {
      const derivedFrom = constants.get(node);
      const constant = {
        ...names.get(node)!,
        value: inputs.get(node)!,
        unit: units[node]!,
        ...(derivedFrom !== null && derivedFrom !== undefined && { derivedFrom }),
      };
      if (stored.meanShifts?.includes(node)) model.meanShift(constant);
      else model.constant(constant);
      node++;
      continue;
    }
    if (operation === Operation.output) {
      const call = stored.calls[stored.tape.c[node]!]!;
      const kernel = KERNELS.find(({ kind }) => kind === call.kind);
      if (!kernel) throw new RangeError(`the stored model needs a kernel "${call.kind}", which this version lacks`);
      const spec = hasProgram(call.spec)
        ? { ...call.spec, program: programs[call.spec.program as number]! }
        : call.spec;
      const scalars = call.inputs.map((input) => new Scalar(tape, input));
      model.call(kernel, spec, scalars, units.slice(node, node + call.count));
      for (let k = 0; k < call.count; k++) nameAgain(node + k);
      node += call.count;
      continue;
    }
    tape.push(
      operation,
      stored.tape.a[node]!,
      stored.tape.b[node]!,
      fromCell(stored.tape.c[node]!),
      units[node]!,
      literal(node),
    );
    nameAgain(node);
    node++;
  }
  return model;

  function literal(node: number): number | undefined {
    return stored.tape.operations[node] === Operation.literal ? fromCell(stored.tape.c[node]!) : inputs.get(node);
  }
  function nameAgain(node: number): void {
    const name = names.get(node);
    if (name) tape.name(node, name);
  }
}

function plainSurface({ orders, coefficients, degrees }: DeviateSurface): StoredSurface {
  return { orders: [...orders], coefficients: [...coefficients], degrees: [...degrees] };
}

function surfaceOf({ orders, coefficients, degrees }: StoredSurface): DeviateSurface {
  return { orders: Int32Array.from(orders), coefficients: Float64Array.from(coefficients), degrees };
}

/** Whether a kernel's specification holds a program, or the number of one: all else in it is plain data. */
function hasProgram<S>(spec: S): spec is S & { readonly program: unknown } {
  return typeof spec === "object" && spec !== null && "program" in spec;
}

function toCell(value: number): number | null {
  if (Math.abs(value) === Number.POSITIVE_INFINITY) throw new RangeError(`${value} cannot be stored in a model`);
  return Number.isNaN(value) ? null : value;
}

function fromCell(cell: number | null): number {
  return cell ?? Number.NaN;
}

function storeTape(tape: Tape): StoredTape {
  return {
    operations: [...tape.operations],
    a: [...tape.a],
    b: [...tape.b],
    c: tape.c.map(toCell),
    units: tape.units.map(({ symbol }) => symbol),
    // by node, so that a model that was read back is stored alike
    names: [...tape.names]
      .sort(([a], [b]) => a - b)
      .map(([node, { key, symbol, label }]) => [node, key, symbol, label]),
  };
}

function restoreProgram({ tape, columns, scalars, outputs }: StoredModel["programs"][number]): Program {
  const slots = tape.names
    .filter(([node]) => node < columns + scalars)
    .map(([node, , symbol]) => ({ symbol, unit: Unit.parse(tape.units[node]!) }));
  return new Program(slots.slice(0, columns), slots.slice(columns), ([first], [scalar]) => {
    const own = (first ?? scalar)!.tape;
    for (let node = columns + scalars; node < tape.operations.length; node++) {
      const operation = tape.operations[node] as OperationCode;
      const c = fromCell(tape.c[node]!);
      const literal = operation === Operation.literal ? c : undefined;
      own.push(operation, tape.a[node]!, tape.b[node]!, c, Unit.parse(tape.units[node]!), literal);
      const name = tape.names.find(([named]) => named === node);
      if (name) own.name(node, { key: name[1], symbol: name[2], label: name[3] });
    }
    return outputs.map((node) => new Scalar(own, node));
  });
}
