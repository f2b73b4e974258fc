import { expect, test } from "vitest";
import { setUpInWords } from "./set-up-words.ts";

test.each([
  [
    { role: "field", x_mm: "10", y_mm: "16", mu: "200", duration_s: "30", temperature_C: "22.0" },
    "10 × 16 mm · field · 200 MU · 30 s · 22.0 °C",
  ],
  [{ diameter_mm: "7.5", role: "field", mu: "200" }, "⌀ 7.5 mm · field · 200 MU"],
  [{ fibre_mm: "400", role: "fit", dose_Gy: "1.6" }, "400 mm of fibre in the beam · fit · 1.6 Gy"],
  [{ duration_s: "30" }, "30 s"],
  [{ x_mm: "10" }, ""],
  [{}, ""],
])("%j reads %s", (cells, words) => expect(setUpInWords(new Map(Object.entries(cells)))).toBe(words));
