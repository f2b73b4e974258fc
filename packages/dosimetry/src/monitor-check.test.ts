import { describe, expect, it } from "vitest";
import { checkMonitor } from "./monitor-check.ts";
import { conditionsOf, type Reading } from "./readings.ts";
import { type Row, seriesOf } from "./testing/made-up-series.ts";

/** Readings of 200 MU each whose ratio monitor/MU is that of the list. */
const ratios = (condition: string, list: readonly number[]): Row[] =>
  list.map((ratio) => [condition, [1, 1], { mu: 200, monitor: 200 * ratio }]);

function check(rows: readonly Row[]) {
  const series = seriesOf<Reading>("output-factors", rows);
  return checkMonitor(
    series,
    conditionsOf(series).map((condition) => ({
      ...condition,
      role: condition.name.startsWith("ref") ? ("reference" as const) : ("field" as const),
    })),
  );
}

const REFERENCE = ratios("ref", [0.0499, 0.05, 0.0501]);

describe("the check of the monitor", () => {
  it("OF-8: says nothing where the ratio is the same in all fields", () => {
    expect(check([...REFERENCE, ...ratios("small", [0.05, 0.0501, 0.0499])])).toEqual({
      seesField: false,
      differences: [],
    });
  });

  it("OF-8: sees a field whose ratio differs by more than 0.3 % and more than chance", () => {
    const found = check([
      ...ratios("ref", [0.04999, 0.05, 0.05001]),
      ...ratios("small", [0.0502, 0.05021, 0.05019]),
      ...ratios("tiny", [0.0497, 0.04971, 0.04969]),
    ])!;
    expect(found.seesField).toBe(true);
    expect(found.differences.map(({ condition }) => condition)).toEqual(["tiny", "small"]); // the larger one first
    expect(found.differences[0]!.difference).toBeCloseTo(-0.006, 6);
    expect(found.differences[1]!.difference).toBeCloseTo(0.004, 6);
    // by hand: relative variance of a reading 4e-8 in about all three, ν 6, t at 0.2 % over two fields = 5.958247 (scipy 1.17.1, C)
    expect(found.differences[1]!.U).toBeCloseTo(5.958247 * Math.sqrt(4e-8 * (2 / 3)), 5);
  });

  it("OF-8: a difference that matters but may be chance is none", () => {
    expect(check([...REFERENCE, ...ratios("small", [0.0498, 0.0502, 0.0506])])!.seesField).toBe(false);
  });

  it("OF-8: nor is one that is certain and small", () => {
    const fine = ratios("ref", [0.05, 0.0500001, 0.0499999]);
    expect(check([...fine, ...ratios("small", [0.0501, 0.0501001, 0.0500999])])!.seesField).toBe(false);
    expect(check([...fine, ...ratios("small", [0.0502, 0.0502001, 0.0501999])])!.seesField).toBe(true);
  });

  it("OF-8: without times a field may read as any visit to the reference, and is held against the nearest", () => {
    const references = [...ratios("ref-1", [0.05, 0.05, 0.05001]), ...ratios("ref-2", [0.0504, 0.0504, 0.05041])];
    expect(check([...references, ...ratios("small", [0.0502])])!.differences).toEqual([]);
    const [only] = check([...references, ...ratios("small", [0.0506])])!.differences;
    expect(only!.difference).toBeCloseTo(0.0506 / ((2 * 0.0504 + 0.05041) / 3) - 1, 9);
  });

  it("OF-8: an output that drifts or steps is no monitor that sees the field", () => {
    const at = (time: number, rows: Row[]): Row[] =>
      rows.map(([name, signals, more]) => [name, signals, { ...more, time }]);
    const small = (own: number, time: number) => at(time, ratios("small", [own, own * 1.0001, own * 0.9999]));
    const stepped = (field: Row[]) => [
      ...at(0, ratios("ref-1", [0.05, 0.050005, 0.049995])),
      ...field,
      ...at(100, ratios("ref-2", [0.0505, 0.050505, 0.050495])),
    ];
    // anywhere between the two visits is what the machine may have given at that time
    for (const ratio of [0.05, 0.05025, 0.0505]) expect(check(stepped(small(ratio, 50)))!.seesField).toBe(false);
    expect(check(stepped(small(0.0507, 50)))!.seesField).toBe(true);
    // after the last visit it is that visit alone that counts
    expect(check(stepped(small(0.0502, 150)))!.seesField).toBe(true);
  });

  it("OF-8: without repeats nothing can be told from chance", () => {
    expect(check([...ratios("ref", [0.05]), ...ratios("small", [0.06])])).toEqual({
      seesField: false,
      differences: [],
    });
  });

  it("OF-8: other monitor units are no other ratio", () => {
    const more: Row[] = [0.0499, 0.05, 0.0501].map((r) => ["small", [1, 1], { mu: 1000, monitor: 1000 * r }]);
    expect(check([...REFERENCE, ...more])!.seesField).toBe(false);
  });

  it("OF-8: without monitor or monitor units in every reading that counts there is nothing to check", () => {
    const lacking: Row = ["small", [1, 1], { mu: 200 }];
    expect(check([...REFERENCE, lacking])).toBeUndefined();
    expect(check([...REFERENCE, ["small", [1, 1], { monitor: 10 }]])).toBeUndefined();
    const left: Row = ["small", [1, 1], { mu: 200, exclude: "no monitor" }];
    expect(check([...REFERENCE, left, ...ratios("small", [0.05])])).toMatchObject({ seesField: false });
  });

  it("OF-8: a monitor of the other polarity is as good", () => {
    const turned = [...ratios("ref", [0.04999, 0.05, 0.05001]), ...ratios("small", [0.0502, 0.05021, 0.05019])].map(
      ([condition, signals, more]): Row => [condition, signals, { ...more, monitor: -more!.monitor! }],
    );
    expect(check(turned)!.differences[0]!.difference).toBeCloseTo(0.004, 6);
  });
});
