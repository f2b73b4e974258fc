import { describe, expect, test } from "vitest";
import { conditionGeometry, fieldGeometry } from "./field-geometry.ts";
import { svgText } from "./svg-text.ts";
import { elementsOf, expectReadable } from "./testing/drawing-checks.ts";
import { GEOMETRY } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = fieldGeometry(GEOMETRY);
const one = (condition: (typeof GEOMETRY.conditions)[number], volume = GEOMETRY.volume!) =>
  elementsOf(fieldGeometry({ ...GEOMETRY, conditions: [condition], volume }));
const number = (attributes: Readonly<Record<string, string>>, key: string) => Number(attributes[key]);

describe("the drawing of the geometry", () => {
  test("is drawn as it was when it was last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("is readable, also with many conditions and long names", () => {
    expectReadable(figure);
    const conditions = Array.from({ length: 23 }, (_, k) => ({
      ...GEOMETRY.conditions[k % 4]!,
      name: `${"name-".repeat(20)}${k}`,
    }));
    expectReadable(fieldGeometry({ ...GEOMETRY, conditions }));
  });

  test("is to scale: field, active volume and bar have one scale", () => {
    const elements = one({ name: "small", nominal: { shape: "rectangle", x_mm: 8, y_mm: 4 } });
    const [field, volume] = elements.filter(
      ({ name, attributes }) => name === "rect" && attributes["stroke-width"] !== undefined,
    );
    const bar = elements.find(({ name, attributes }) => name === "line" && attributes["stroke-width"] === "2")!;
    const length = Number(
      elements
        .map(({ children }) => children.filter((child) => typeof child === "string").join(""))
        .find((text) => /^[\d.]+ mm$/.test(text))!
        .split(" ")[0],
    );
    const scale = number(field!.attributes, "width") / 8;
    expect(number(field!.attributes, "height") / 4).toBeCloseTo(scale, 1);
    // across the beam: 2 mm along x, 1 mm along y
    expect(number(volume!.attributes, "width") / 2).toBeCloseTo(scale, 1);
    expect(number(volume!.attributes, "height")).toBeCloseTo(scale, 1);
    expect((number(bar.attributes, "x2") - number(bar.attributes, "x1")) / length).toBeCloseTo(scale, 1);
  });

  test("shows a volume along the beam as a disc of its diameter, beside the centre by its offset, y upwards", () => {
    const circle = { shape: "circle", x_mm: 10, y_mm: 10 } as const;
    const elements = one(
      { name: "c", nominal: circle, offset_mm: [1, -2] },
      { diameter_mm: 1, length_mm: 3, axis: "along-beam" },
    );
    const field = elements.find(({ name }) => name === "ellipse")!.attributes;
    const disc = elements.find(({ name }) => name === "circle")!.attributes;
    const scale = number(field, "rx") / 5;
    expect(number(disc, "r") * 2).toBeCloseTo(scale, 1);
    expect((number(disc, "cx") - number(field, "cx")) / scale).toBeCloseTo(1, 1);
    expect((number(disc, "cy") - number(field, "cy")) / scale).toBeCloseTo(2, 1);
  });

  test("rings a volume that is too small to be seen, and shows it large by itself", () => {
    const elements = one(
      { name: "wide", nominal: { shape: "rectangle", x_mm: 200, y_mm: 200 } },
      { diameter_mm: 1, length_mm: 1, axis: "along-beam" },
    );
    const radii = elements.filter(({ name }) => name === "circle").map(({ attributes }) => number(attributes, "r"));
    expect(radii[0]).toBeLessThan(1);
    expect(radii[1]).toBe(5);
    expect(radii.at(-1)).toBe(30);
  });

  test("draws the measured outline where it can be told from that which was set", () => {
    const dashed = (condition: (typeof GEOMETRY.conditions)[number]) =>
      one(condition).some(({ attributes }) => attributes["stroke-dasharray"] === "4 3");
    expect(dashed(GEOMETRY.conditions[0]!)).toBe(false);
    expect(dashed(GEOMETRY.conditions[1]!)).toBe(true);
  });

  test("says what is a stand-in, and what could not be drawn", () => {
    const texts = textBoxes(figure)
      .map(({ text }) => text)
      .join(" ");
    expect(texts).toContain(
      "Only the length of fibre in the beam is known, and it is to scale; how it lies is a stand-in.",
    );
    expect(texts).toContain("Not drawn, since so much fibre has no room in the field: too-much.");
    expect(texts).toContain("field not stated");
  });

  test("has alternative text with every size", () => {
    expect(figure.description).toContain("long: 100 × 100 mm, FWHM 100.3 × 100.2 mm, fibre 400 mm");
    expect(figure.description).toContain("cone-12: ⌀ 12 mm, FWHM 13.5 × 13.1 mm, tip at 0.3, −0.2 mm");
    expect(figure.description).toContain("1 mm diameter and 2 mm length, its axis across the beam");
  });
});

describe("one condition alone", () => {
  const [condition] = GEOMETRY.conditions;
  const alone = conditionGeometry({ id: "set-up", title: "Set up", condition: condition!, volume: GEOMETRY.volume! });

  test("is what the drawing of all of them shows of it, without words but those of the scale", () => {
    const texts = textBoxes(alone).map(({ text }) => text);
    expect(texts.filter((text) => !/^[\d.]+ mm$/.test(text))).toEqual([]);
    const drawn = elementsOf(alone).map(({ name, attributes }) => [name, attributes["width"], attributes["r"]]);
    const among = elementsOf(fieldGeometry({ ...GEOMETRY, conditions: [condition!] }));
    for (const [name, width, r] of drawn.filter(([own]) => own === "rect" || own === "circle"))
      expect(
        among.some((one) => one.name === name && one.attributes["width"] === width && one.attributes["r"] === r),
      ).toBe(true);
  });

  test("has its figures in its description, and lies within its frame", () => {
    expect(alone.description).toContain("One condition as the source sees it, to scale.");
    expect(alone.description).toContain(condition!.name);
    for (const { attributes } of elementsOf(alone).filter(({ name }) => name === "rect")) {
      expect(number(attributes, "x")).toBeGreaterThanOrEqual(0);
      expect(number(attributes, "x") + number(attributes, "width")).toBeLessThanOrEqual(alone.width);
      expect(number(attributes, "y") + number(attributes, "height")).toBeLessThanOrEqual(alone.height);
    }
  });
});
