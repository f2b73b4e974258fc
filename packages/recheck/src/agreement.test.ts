import { describe, expect, test } from "vitest";
import { agreement } from "./agreement.ts";
import { bothRoutes } from "./testing/both-routes.ts";
import { demonstration } from "./testing/demonstration.ts";

const row = (more: object) => ({
  ...{ id: "x", value: 0.75, recheckValue: 0.75, difference: 0, u: 0.002, recheckU: 0.002 },
  ...more,
});

describe("two routes in one figure", () => {
  test.each([
    ["the same", {}, "agree"],
    ["a hundredth of u apart", { recheckValue: 0.75002, difference: 0.00002 }, "agree"],
    ["more than that", { recheckValue: 0.75003, difference: 0.00003 }, "apart"],
    ["two per cent of u", { recheckU: 0.00204 }, "agree"],
    ["another uncertainty", { recheckU: 0.0021 }, "apart"],
    ["an uncertainty by one route only", { recheckU: null }, "apart"],
    ["no number", { difference: Number.NaN }, "apart"],
    ["a χ² that agrees", { u: null, recheckU: null, difference: 1e-9 }, "agree"],
    ["a χ² that does not", { u: null, recheckU: null, difference: 1e-3 }, "apart"],
    ["a factor of one without uncertainty", { value: 1, recheckValue: 1, u: 0, recheckU: 0 }, "agree"],
    ["none by the second", { recheckValue: null, difference: null, recheckU: null }, "one route alone"],
    ["none by the first", { value: null, difference: null, u: null }, "one route alone"],
  ] as const)("%s: %j are %s", (_, more, expected) => expect(agreement(row(more))).toBe(expected));
});

test("the demonstration agrees in all that both give, and what one gives alone is named", () => {
  const rows = bothRoutes(demonstration());
  const of = (kind: ReturnType<typeof agreement>) => rows.filter((one) => agreement(one) === kind).map(({ id }) => id);
  expect(of("apart")).toEqual([]);
  expect(of("agree").length).toBeGreaterThan(50);
  for (const id of of("one route alone"))
    expect(id).toMatch(/verified-stem-load|residual-slope|coefficient-difference|^comparison/);
});

test("a reading that only one route was given sets them apart", () => {
  const rows = bothRoutes(demonstration());
  const spoilt = rows.map((one) =>
    one.id === "separation.stem-ratio" ? { ...one, recheckValue: one.recheckValue! + one.u!, difference: one.u! } : one,
  );
  expect(spoilt.filter((one) => agreement(one) === "apart").map(({ id }) => id)).toEqual(["separation.stem-ratio"]);
});
