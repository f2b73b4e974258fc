import { blockRunner, gradient, Model, ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import type { ActiveVolume } from "./active-volume.ts";
import { fieldModel, GAUSSIAN_FWHM } from "./field-model.ts";
import { MILLIMETRE } from "./length-unit.ts";
import type { Placement } from "./placement.ts";
import { TipGeometry } from "./volume-averaging.ts";

/** Values of checks.md, "Volume averaging" (C: closed forms that agree with quadrature), unless said otherwise. */
interface Field {
  readonly shape?: "rectangle" | "circle";
  readonly width: number;
  readonly sigma: number;
  readonly nominal?: boolean;
}

const DISC = (diameter_mm: number): ActiveVolume => ({ diameter_mm, length_mm: 1, axis: "along-beam" });

function tip(
  { shape = "rectangle", width, sigma, nominal = false }: Field,
  volume: ActiveVolume,
  placement?: Placement,
) {
  const model = new Model();
  const estimate = (key: string, value: number, u: number): Scalar =>
    model.estimate({ key, symbol: key, label: key, type: "B", unit: MILLIMETRE, value, u });
  const [x, y] = [estimate("x", width, 0.1), estimate("y", width, 0.1)];
  const field = fieldModel(model, shape, [x, y], estimate("sigma", sigma, 0.3), nominal);
  const corrections = new TipGeometry(model, volume).corrections(field, placement ?? { offset: [0, 0], u: 0 });
  return { model, field, ...corrections };
}

const sumOf = (values: Float64Array) => values.reduce((total, value) => total + value, 0);

const gaussian = (sd: number): Field => ({ width: GAUSSIAN_FWHM * sd, sigma: sd });

describe("volume averaging", () => {
  it("VOL-1: a disc of 1 mm in a Gaussian of sd 2 mm: 1.01570638 (C)", () => {
    expect(tip(gaussian(2), DISC(1)).volumeAveraging.value).toBeCloseTo(1.01570638, 8);
  });

  it("VOL-1: a disc of 2 mm in a Gaussian of sd 2 mm: 1.06380174 (C)", () => {
    expect(tip(gaussian(2), DISC(2)).volumeAveraging.value).toBeCloseTo(1.06380174, 8);
  });

  it("VOL-1: a cylinder of 1 mm × 1 mm across the beam in the same: 1.01832122 (C)", () => {
    const across: ActiveVolume = { diameter_mm: 1, length_mm: 1, axis: "across-beam" };
    expect(tip(gaussian(2), across).volumeAveraging.value).toBeCloseTo(1.01832122, 8);
  });

  it.each([
    [5, 1.009081, 6],
    [6, 1.007035, 6],
    [10, 1.0014, 6],
    [20, 1.0000002, 7],
  ])("VOL-2: a disc of 1 mm in a box of %d mm blurred by 2 mm: %d (C)", (width, k, digits) => {
    expect(tip({ width, sigma: 2, nominal: true }, DISC(1)).volumeAveraging.value).toBeCloseTo(k, digits);
  });

  it.each([
    ["rectangle", 5, 2, 2.403716, 1.013898],
    ["rectangle", 5, 1.5, 4.501661, 1.012536],
    ["circle", 5, 2, 2.760664, 1.013903],
  ] as const)("VOL-3: %s with FWHM %d mm and σ %d mm: 2a = %d mm, k = %d (C)", (shape, width, sigma, twice, k) => {
    const { field, volumeAveraging } = tip({ shape, width, sigma }, DISC(1));
    expect(2 * field.halfWidths[0].value).toBeCloseTo(twice, 6);
    expect(volumeAveraging.value).toBeCloseTo(k, 6);
  });

  it("VOL-1: the quadrature holds to 1e-6 against the closed form up to a disc of one and a half blurs (C: x/(1 − e⁻ˣ))", () => {
    for (const radius of [0.25, 0.5, 1, 1.5]) {
      const x = (radius * radius) / 2;
      expect(tip(gaussian(1), DISC(2 * radius)).volumeAveraging.value).toBeCloseTo(x / (1 - Math.exp(-x)), 6);
    }
  });

  it("VOL-3: the derivatives by width and blur are those of the whole solution", () => {
    for (const shape of ["rectangle", "circle"] as const) {
      const at = (width: number, sigma: number) => tip({ shape, width, sigma }, DISC(1)).volumeAveraging.value;
      const { model, volumeAveraging } = tip({ shape, width: 6, sigma: 1.5 }, DISC(1));
      const adjoints = gradient(model, volumeAveraging.index);
      const by = (key: string) => adjoints[model.tape.find(key)!.index]!;
      const h = 1e-3;
      expect(by("x") + by("y")).toBeCloseTo((at(6 + h, 1.5) - at(6 - h, 1.5)) / (2 * h), 7);
      expect(by("sigma")).toBeCloseTo((at(6, 1.5 + h) - at(6, 1.5 - h)) / (2 * h), 7);
    }
  });

  it("VOL-4: a field narrower than its blur allows is a Gaussian of its FWHM", () => {
    const { field, volumeAveraging } = tip({ width: 4, sigma: 2 }, DISC(1));
    expect(field.gaussian).toBe(true);
    const x = 0.125 * (GAUSSIAN_FWHM / 4) ** 2;
    expect(volumeAveraging.value).toBeCloseTo(x / (1 - Math.exp(-x)), 8);
    expect(tip({ shape: "circle", width: 4, sigma: 2 }, DISC(1)).volumeAveraging.value).toBeCloseTo(
      x / (1 - Math.exp(-x)),
      8,
    );
  });

  it("VOL-4: a field that is too narrow along one axis is a Gaussian along that axis alone", () => {
    const model = new Model();
    const [x, y, sigma] = [4, 9, 2].map((value, i) =>
      model.estimate({ key: `${i}`, symbol: "w", label: "w", type: "B", unit: MILLIMETRE, value, u: 0 }),
    ) as [Scalar, Scalar, Scalar];
    const { halfWidths, sigmas, gaussian } = fieldModel(model, "rectangle", [x, y], sigma, false);
    expect(gaussian).toBe(true);
    expect(sigmas.map(({ value }) => value)).toEqual([expect.closeTo(4 / GAUSSIAN_FWHM, 6), 2]);
    expect(halfWidths[0].value).toBeLessThan(0.01);
    expect(halfWidths[1].value).toBeGreaterThan(4);
  });

  it.each(["rectangle", "circle"] as const)(
    "VOL-4: a %s goes over into the Gaussian without a step in its corrections or their slopes",
    (shape) => {
      const limit = 5 / GAUSSIAN_FWHM;
      const at = (sigma: number) => tip({ shape, width: 5, sigma }, DISC(1), { offset: [0.2, 0], u: 0.3 });
      for (const correction of ["volumeAveraging", "positioning"] as const) {
        const value = (sigma: number) => at(sigma)[correction].value;
        const gaussianValue = value(limit * 1.1);
        const by = (sigma: number) => {
          const { model, [correction]: node } = at(sigma);
          return gradient(model, node.index)[model.tape.find("sigma")!.index]!;
        };
        // beyond the limit nothing depends on σ; before it the value closes in with the square of the distance
        expect(Math.abs(by(limit * 1.001))).toBe(0);
        const [near, nearer] = [1e-2, 1e-3].map((part) => gaussianValue - value(limit * (1 - part)));
        expect(near! / nearer!).toBeGreaterThan(70);
        expect(near! / nearer!).toBeLessThan(130);
        const h = 1e-4;
        for (const part of [1e-2, 1e-3, 1e-4]) {
          const sigma = limit * (1 - part);
          const slope = (value(sigma + h * part) - value(sigma - h * part)) / (2 * h * part);
          expect(Math.abs(by(sigma) - slope)).toBeLessThan(1e-4 * Math.abs(by(limit * 0.9)));
        }
      }
    },
  );

  it("VOL-4: every draw of width and blur has a value, on both sides of the limit", () => {
    const model = new Model();
    const draw = (key: string, value: number, u: number, distribution?: "rectangular") =>
      model.estimate({
        key,
        symbol: key,
        label: key,
        type: "B",
        unit: MILLIMETRE,
        value,
        u,
        ...(distribution && { distribution }),
      });
    const [x, y] = [draw("x", 4.6, 0.3), draw("y", 4.8, 0.3)];
    const sigma = draw("sigma", 2, 1, "rectangular");
    const nodes = (["rectangle", "circle"] as const).map((shape) => {
      const field = fieldModel(model, shape, [x, y], sigma, false);
      return new TipGeometry(model, DISC(1)).corrections(field, { offset: [0, 0], u: 0.1 }).volumeAveraging;
    });
    for (const values of blockRunner(model, nodes)(1, 0, 2).values) {
      expect(values.every(Number.isFinite)).toBe(true);
      // no wider than a sharp-edged field's, no narrower than a Gaussian of the least width
      expect(Math.min(...values)).toBeGreaterThanOrEqual(1 - 1e-6);
      expect(Math.max(...values)).toBeLessThan(1.05);
    }
  });

  it("VOL-5: the mean over a rectangular blur moves by E[k(σ)] − k(E[σ]) (numerical integral)", () => {
    for (const shape of ["rectangle", "circle"] as const) {
      const placement: Placement = { offset: [0, 0], u: 0.2 };
      const at = (value: number) => tip({ shape, width: 5, sigma: value }, DISC(1), placement);
      const model = new Model();
      const shift = new TipGeometry(model, DISC(1)).curvature(
        at(1.5).field,
        [5, 5],
        { value: 1.5, u: 0.29 },
        false,
        placement,
        at(1.5),
      );
      for (const correction of ["volumeAveraging", "positioning"] as const) {
        // the midpoint rule over 1.5 ± √3·0.29
        const n = 200;
        const values = Array.from({ length: n }, (_, i) => {
          const { [correction]: node } = at(1.5 + Math.sqrt(3) * 0.29 * ((2 * i + 1) / n - 1));
          return node.value;
        });
        const mean = values.reduce((total, value) => total + value, 0) / n;
        const exact = mean - at(1.5)[correction].value;
        expect(exact).toBeLessThan(-1e-4);
        expect(shift[correction] / exact).toBeCloseTo(1, 3);
      }
    }
  });
});

describe("positioning", () => {
  it("POS-1: in a Gaussian field the mean loss of a point-like tip is 1 + u²/s² (closed form)", () => {
    const { positioning } = tip(gaussian(2), DISC(0.001), { offset: [0, 0], u: 0.3 });
    expect(positioning.value).toBeCloseTo(1 + 0.09 / 4, 7);
  });

  it("POS-1: its spread is that of exp(−δ²/2s²) for normal δ (closed form)", () => {
    const { placementSpread } = tip(gaussian(2), DISC(0.001), { offset: [0, 0], u: 0.3 });
    // E[L] = 1/(1 + v), E[L²] = 1/(1 + 2v) with v = u²/s², both axes
    const v = 0.09 / 4;
    const spread = Math.sqrt((1 + v) ** 2 / (1 + 2 * v) - 1);
    expect(placementSpread / spread).toBeCloseTo(1, 2);
  });

  it.each(["rectangle", "circle"] as const)(
    "POS-3: under Monte Carlo 1/L of a drawn displacement is the quadrature's, in a %s, with an offset too",
    (shape) => {
      for (const offset of [
        [0, 0],
        [0.4, -0.2],
      ] as const) {
        const u = 0.3;
        const found = tip({ shape, width: 6, sigma: 1.5 }, DISC(1), { offset, u });
        const { field, placement, placementSpread, model } = found;
        const surface = placement();
        const average = (dx: number, dy: number) =>
          new TipGeometry(model, DISC(1)).corrections(field, { offset: [dx, dy], u: 0 }).positioning.value;
        const drawn = model.estimate({
          key: `drawn ${offset.join(" ")}`,
          symbol: "δ",
          label: "centring",
          type: "B",
          unit: ONE,
          value: 0,
          u: placementSpread,
          surface: () => surface,
        });
        const [values] = blockRunner(model, [drawn])(3, 0, 20).values;
        // E⟨D⟩/⟨D⟩(δ) − 1 ranges from that of no displacement at all to its largest, and scatters as L does
        const of = (dx: number, dy: number) => average(dx, dy) / found.positioning.value - 1;
        const least = of(0, 0);
        if (offset[0] === 0) expect(Math.min(...values!)).toBeGreaterThan(least - 2e-3 * placementSpread);
        const mean = sumOf(values!) / values!.length;
        const sd = Math.sqrt(sumOf(values!.map((x) => (x - mean) ** 2)) / values!.length);
        expect(sd / placementSpread).toBeGreaterThan(0.9);
        expect(sd / placementSpread).toBeLessThan(1.15);
        // E[1/L]·E[L] − 1 is about the square of the spread
        expect(Math.abs(mean)).toBeLessThan(placementSpread ** 2 * 2 + (4 * sd) / Math.sqrt(values!.length));
      }
    },
  );

  it("POS-2: a flat field forgives any placement, a measured offset costs what the profile says", () => {
    const flat = tip({ width: 100, sigma: 1.5 }, DISC(1), { offset: [0.2, 0], u: 0.3 });
    expect(flat.positioning.value).toBeCloseTo(1, 12);
    expect(flat.placementSpread).toBeCloseTo(0, 12);
    const off = tip(gaussian(2), DISC(0.001), { offset: [0.5, -0.3], u: 0 });
    expect(off.positioning.value).toBeCloseTo(Math.exp((0.25 + 0.09) / 8), 7);
  });

  it("POS-1: a round field is treated alike along all directions", () => {
    const one = tip({ shape: "circle", width: 5, sigma: 1.5 }, DISC(1), { offset: [0.4, 0], u: 0.1 });
    const other = tip({ shape: "circle", width: 5, sigma: 1.5 }, DISC(1), { offset: [0, 0.4], u: 0.1 });
    expect(one.positioning.value).toBeCloseTo(other.positioning.value, 9);
    expect(one.positioning.value).toBeGreaterThan(1.005);
  });
});
