import { expect, test } from "vitest";
import { roundLength, scaleBar } from "./scale-bar.ts";

test("a bar has the longest round length that fits", () => {
  expect([roundLength(1, 48), roundLength(20, 48), roundLength(60, 48), roundLength(1000, 48)]).toEqual([
    20, 2, 0.5, 0.1,
  ]);
});

test("a bar is as long on the page as its length says", () => {
  const [line, , , text] = scaleBar(10, 5, 20, 48);
  expect(Number(line!.attributes["x2"]) - Number(line!.attributes["x1"])).toBe(40);
  expect(text!.children).toEqual(["2 mm"]);
});
