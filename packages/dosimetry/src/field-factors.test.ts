import { Model, type MonteCarloResult, monteCarlo, propagate, type Scalar } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { startChain } from "./chain.ts";
import { type DescribedField, type FieldAssumptions, FieldCorrections } from "./field-factors.ts";

const ASSUMED: FieldAssumptions = {
  activeVolume: { diameter_mm: 1, length_mm: 1, axis: "along-beam" },
  fieldWidth_u_mm: 0.1,
  positioning_u_mm: 0.1,
  penumbraSigma_mm: { value: 1.5, u: 0.29 },
};

function corrections(assumed: Partial<FieldAssumptions> = {}) {
  const model = new Model();
  const chain = startChain(model, {
    channels: ["blue", "green"],
    signalUnit: "nC",
    temperatureCoefficient_perK: { value: -0.001, u: 0 },
    referenceTemperature_C: 22,
    temperature_u_C: 1,
  });
  return { model, own: new FieldCorrections(chain, { ...ASSUMED, ...assumed }) };
}

const cone = (mm: number, more: Partial<DescribedField> = {}): DescribedField => ({
  shape: "circle",
  diameter_mm: mm,
  fwhm_x_mm: mm,
  fwhm_y_mm: mm,
  ...more,
});
const square = (mm: number, more: Partial<DescribedField> = {}): DescribedField => ({
  shape: "rectangle",
  x_mm: mm,
  y_mm: mm,
  fwhm_x_mm: mm,
  fwhm_y_mm: mm,
  ...more,
});

function drawn(model: Model, nodes: readonly Scalar[], trials = 40_000): readonly MonteCarloResult[] {
  return monteCarlo(model, nodes, { seed: 7, trials }).results;
}

describe("the corrections of a field", () => {
  it("VOL-6: a field that is flat wherever the tip may stand has corrections of one, without uncertainty", () => {
    for (const field of [square(100), square(40), cone(40)]) {
      const { model, own } = corrections();
      const factors = own.of("f", field);
      expect(factors.model).toBe("flat");
      for (const node of [factors.volumeAveraging, factors.positioning])
        expect(propagate(model, node)).toMatchObject({ value: 1, u: 0 });
    }
  });

  it("VOL-6: what is taken as flat differs from one by less than 1e-9, for the largest blur and the least width", () => {
    // the narrowest square that is flat: the quadrature at the ends of what may be drawn says the same
    const flat = (mm: number) => corrections().own.of("f", square(mm)).model === "flat";
    let width = 20;
    while (!flat(width)) width += 0.5;
    expect(width).toBeLessThan(35);
    const sigma = 1.5 + Math.sqrt(3) * 0.29;
    const narrow = { ...square(width - 0.4), sigma_mm: sigma, offset_x_mm: 0.4 };
    const { own } = corrections({ fieldWidth_u_mm: 0, positioning_u_mm: 0 });
    const { volumeAveraging, positioning, model } = own.of("f", { ...narrow, sigma_mm: sigma * 1.2 });
    expect(model).toBe("blurred"); // with a blur a fifth larger it is computed
    expect(Math.abs(volumeAveraging.value - 1)).toBeLessThan(1e-6);
    expect(Math.abs(positioning.value - 1)).toBeLessThan(1e-6);
    const edge = corrections({ fieldWidth_u_mm: 0, positioning_u_mm: 0 }).own.of("f", {
      ...narrow,
      // offset so that the room for flatness is just used up
      offset_x_mm: 1.2,
    });
    expect(Math.abs(edge.positioning.value - 1)).toBeLessThan(1e-9);
  });

  it("VOL-6: a wide blur, a placement far off or a wide error of it takes the flatness away", () => {
    expect(corrections().own.of("f", square(40, { sigma_mm: 4, sigma_u_mm: 0 })).model).toBe("blurred");
    expect(corrections().own.of("f", square(40, { offset_x_mm: 12 })).model).toBe("blurred");
    expect(corrections({ positioning_u_mm: 3 }).own.of("f", square(40)).model).toBe("blurred");
  });

  it("VOL-5: value and Monte Carlo mean are the same where k is curved in the blur", () => {
    const { model, own } = corrections({ fieldWidth_u_mm: 0.02 });
    const nodes = [cone(5), square(6)].flatMap((field, i) => {
      const { volumeAveraging, positioning } = own.of(`f${i}`, field);
      return [volumeAveraging, positioning];
    });
    const results = drawn(model, nodes, 100_000);
    nodes.forEach((node, i) => {
      const { mean, u } = results[i]!;
      // without the shift the cone's k_vol lies 0.0007 away, a quarter of its u
      expect(Math.abs(mean! - node.value)).toBeLessThan((4 * u!) / Math.sqrt(100_000) + 0.02 * u!);
    });
  });

  it("VOL-5: a blur without uncertainty moves nothing", () => {
    const { model, own } = corrections({ penumbraSigma_mm: { value: 1.5, u: 0 } });
    own.of("f", cone(5));
    expect(model.meanShifts.size).toBe(0);
  });

  it("POS-3: under Monte Carlo the spread of k_pos is that of drawn displacements, and skew", () => {
    const { model, own } = corrections({
      penumbraSigma_mm: { value: 1.5, u: 0 },
      fieldWidth_u_mm: 0,
      positioning_u_mm: 0.4,
    });
    const { positioning } = own.of("f", cone(5));
    const [result] = drawn(model, [positioning], 100_000);
    const { u, value } = propagate(model, positioning);
    expect(result!.u! / u).toBeGreaterThan(0.95);
    expect(result!.u! / u).toBeLessThan(1.2);
    // 1/L is least in the middle of the field and has a long upper tail, unlike a normal spread
    const { low, high } = result!.symmetric!;
    expect((high - value) / (value - low)).toBeGreaterThan(2);
  });

  it("FIELD-7: the blur is drawn between σ ± √3·u: no trial fails, with half of it as its uncertainty", () => {
    for (const own of [{ sigma_mm: 1.5, sigma_u_mm: 0.75 }, {}]) {
      const { model, own: fields } = corrections({ penumbraSigma_mm: { value: 1.5, u: 0.75 } });
      const { volumeAveraging } = fields.of("f", cone(4, own));
      const [result] = drawn(model, [volumeAveraging]);
      expect(result!.failures).toBe(0);
      const block = model.blocks.find(({ key }) => key.endsWith("sigma"))!;
      expect(block.distribution).toBe("rectangular");
    }
  });
});
