import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { blurredBoxAt, blurredBoxFwhm, blurredBoxHalfWidth, blurredBoxPenumbra, edgePenumbra } from "./penumbra.ts";

describe("penumbra of a wide edge", () => {
  it("EDGE-1: 80–20 is 1.683242·σ, 90–10 is 2.563103·σ (computed with scipy, C)", () => {
    expect(edgePenumbra(1)).toBeCloseTo(1.683242, 6);
    expect(edgePenumbra(1, 0.1, 0.9)).toBeCloseTo(2.563103, 6);
    expect(edgePenumbra(2.5)).toBeCloseTo(2.5 * 1.683242, 5);
  });

  it("EDGE-1: no blur, and levels that are none, are refused", () => {
    for (const sigma of [0, -1, Number.NaN]) expect(() => edgePenumbra(sigma)).toThrow(`but is ${sigma}`);
    for (const [low, high] of [
      [0.8, 0.2],
      [0, 0.8],
      [0.2, 1],
      [0.5, 0.5],
      [20, 80],
    ] as const)
      expect(() => edgePenumbra(1, low, high)).toThrow(`but are ${low} and ${high}`);
  });
});

/** The same convolution by Simpson's rule: Gaussian density over the box, seen from x. */
function profileByQuadrature(width: number, sigma: number, x: number): number {
  const n = 2000;
  const h = width / n;
  let total = 0;
  for (let i = 0; i <= n; i++) {
    const z = (x + width / 2 - i * h) / sigma;
    total += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * Math.exp(-0.5 * z * z);
  }
  return (total * h) / (3 * sigma * Math.sqrt(2 * Math.PI));
}

describe("profile of a blurred box", () => {
  // Box of width w, σ = 2 mm: value at the centre; computed with scipy, C.
  it.each([
    [10, 0.987581],
    [6, 0.866386],
    [5, 0.7887],
  ])("EDGE-2: a box of %d mm has the central value %d", (width, centre) => {
    expect(blurredBoxAt({ width, sigma: 2 }, 0)).toBeCloseTo(centre, 6);
  });

  it("EDGE-2: it is the convolution of box and Gaussian, near and far (against quadrature)", () => {
    for (const [width, sigma] of [
      [5, 2],
      [10, 2],
      [6, 0.8],
      [1, 3],
    ] as const)
      for (const x of [0, 0.4, 2.4, 2.5, 2.6, 5, 9, -5])
        expect(blurredBoxAt({ width, sigma }, x)).toBeCloseTo(profileByQuadrature(width, sigma, x), 11);
  });

  it("EDGE-2: far outside it keeps its digits instead of ending in zero", () => {
    const far = profileByQuadrature(5, 1, 12);
    expect(far).toBeLessThan(1e-20);
    expect(blurredBoxAt({ width: 5, sigma: 1 }, 12) / far).toBeCloseTo(1, 6);
  });

  it("EDGE-2: symmetric, never rising outwards, half at the geometric edge of a wide box", () => {
    const box = { width: 40, sigma: 2 };
    expect(blurredBoxAt(box, 20)).toBeCloseTo(0.5, 12);
    const distance = fc.double({ min: 0, max: 60, noNaN: true });
    fc.assert(
      fc.property(distance, distance, (x, y) => {
        expect(blurredBoxAt(box, -x)).toBe(blurredBoxAt(box, x));
        if (x < y) expect(blurredBoxAt(box, y)).toBeLessThanOrEqual(blurredBoxAt(box, x) + 1e-15);
      }),
    );
  });
});

describe("width and penumbra of a blurred box", () => {
  // σ = 2 mm; FWHM and 80–20 relative to the centre; computed with scipy, C.
  it.each([
    [10, 10.062261, 3.314439],
    [6, 6.665156, 2.929609],
    [5, 6.042034, 2.765281],
  ])("EDGE-3: a box of %d mm has a FWHM of %d mm and a penumbra of %d mm", (width, fwhm, penumbra) => {
    const box = { width, sigma: 2 };
    expect(blurredBoxFwhm(box)).toBeCloseTo(fwhm, 6);
    expect(blurredBoxPenumbra(box)).toBeCloseTo(penumbra, 6);
  });

  it("EDGE-3: a wide box keeps its width and the penumbra of a single edge", () => {
    const box = { width: 100, sigma: 2 };
    expect(blurredBoxFwhm(box)).toBeCloseTo(100, 10);
    expect(blurredBoxPenumbra(box)).toBeCloseTo(edgePenumbra(2), 10);
    expect(blurredBoxPenumbra(box, 0.1, 0.9)).toBeCloseTo(edgePenumbra(2, 0.1, 0.9), 10);
  });

  it("EDGE-3: a narrow box is a Gaussian, of FWHM 2√(2 ln 2)·σ", () => {
    const box = { width: 1e-3, sigma: 2 };
    expect(blurredBoxFwhm(box)).toBeCloseTo(2 * Math.sqrt(2 * Math.log(2)) * 2, 6);
    expect(blurredBoxHalfWidth(box, 0.2)).toBeCloseTo(2 * Math.sqrt(2 * Math.log(5)), 6);
  });

  it("EDGE-3: at the distance found the profile is at the level asked for", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100, noNaN: true }), // small cones to wide fields, in mm
        fc.double({ min: 0.5, max: 5, noNaN: true }), // sharp collimators to broad ones, in mm
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (width, sigma, level) => {
          const box = { width, sigma };
          const x = blurredBoxHalfWidth(box, level);
          expect(blurredBoxAt(box, x) / blurredBoxAt(box, 0)).toBeCloseTo(level, 12);
        },
      ),
    );
  });

  it("EDGE-3: twice the box and twice the blur are twice as wide", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 50, noNaN: true }), fc.double({ min: 0.5, max: 5, noNaN: true }), (w, s) => {
        const once = { width: w, sigma: s };
        const twice = { width: 2 * w, sigma: 2 * s };
        expect(blurredBoxFwhm(twice) / blurredBoxFwhm(once)).toBeCloseTo(2, 12);
        expect(blurredBoxPenumbra(twice) / blurredBoxPenumbra(once)).toBeCloseTo(2, 9);
      }),
    );
  });

  it("EDGE-3: boxes without width or blur, and levels that are none, are refused", () => {
    expect(() => blurredBoxFwhm({ width: 0, sigma: 2 })).toThrow("the width of the box");
    expect(() => blurredBoxFwhm({ width: 5, sigma: -2 })).toThrow("the blur of the box");
    expect(() => blurredBoxAt({ width: Number.NaN, sigma: 2 }, 0)).toThrow(RangeError);
    for (const level of [0, 1, -0.5, 50])
      expect(() => blurredBoxHalfWidth({ width: 5, sigma: 2 }, level)).toThrow(`but is ${level}`);
    expect(() => blurredBoxPenumbra({ width: 5, sigma: 2 }, 0.8, 0.2)).toThrow("but are 0.8 and 0.2");
  });
});
