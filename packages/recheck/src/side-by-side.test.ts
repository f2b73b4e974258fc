import type { Quantity } from "@alcedo-dosimetry/campaign";
import { describe, expect, it } from "vitest";
import { sideBySide } from "./side-by-side.ts";

const quantity = (id: string, value: number, u: number | null): Quantity => ({
  id,
  label: id,
  symbol: id,
  unit: "1",
  value,
  u,
  dof: null,
  k: null,
  U: null,
  budget: [],
});

describe("both routes side by side", () => {
  it("stand in the order of the result, then what the recheck alone has", () => {
    const rows = sideBySide({ quantities: [quantity("b", 2, 0.1), quantity("a", 1, null)] }, [
      { id: "a", value: 1.5, u: null },
      { id: "c", value: 3, u: 0.3 },
      { id: "b", value: 2, u: 0.2 },
    ]);
    expect(rows).toEqual([
      { id: "b", value: 2, recheckValue: 2, difference: 0, u: 0.1, recheckU: 0.2 },
      { id: "a", value: 1, recheckValue: 1.5, difference: 0.5, u: null, recheckU: null },
      { id: "c", value: null, recheckValue: 3, difference: null, u: null, recheckU: 0.3 },
    ]);
  });

  it("show what the recheck lacks as missing, not as zero", () => {
    expect(sideBySide({ quantities: [quantity("a", 1, 0.1)] }, [])).toEqual([
      { id: "a", value: 1, recheckValue: null, difference: null, u: 0.1, recheckU: null },
    ]);
  });
});
