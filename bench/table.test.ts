import { expect, test } from "vitest";
import { table } from "./table.ts";

const workload = { name: "Sum of 10⁶ numbers", baseline: "plain" };

test("each row is set against the baseline", () => {
  const rows = [
    { what: "plain", ms: 2200.4 },
    { what: "unrolled", ms: 550.1, note: "memory-bound" },
  ];
  expect(table(workload, rows)).toBe(
    [
      "Sum of 10⁶ numbers",
      "  plain         2200 ms   baseline",
      "  unrolled     550.1 ms     4.00 x  memory-bound",
    ].join("\n"),
  );
});

test("a baseline that is not among the rows is an error that names the rows", () => {
  expect(() => table(workload, [{ what: "unrolled", ms: 4 }])).toThrow('no row is called "plain"');
  expect(() => table(workload, [])).toThrow("there are none");
});
