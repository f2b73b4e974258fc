import { type Scalar, Unit } from "@alcedo-dosimetry/metrology";
import { requirePositive, requirePositiveNode, requireUnit } from "./requirement.ts";
import { type Qualified, qualified } from "./validity.ts";

/** The air to which a chamber's calibration coefficient refers. */
export interface ReferenceAir {
  readonly temperature_C: number;
  readonly pressure_kPa: number;
}

/** Reference air of IAEA TRS-398. */
export const AIR_20_CELSIUS: ReferenceAir = { temperature_C: 20, pressure_kPa: 101.325 };

/** Reference air of AAPM TG-51. */
export const AIR_22_CELSIUS: ReferenceAir = { temperature_C: 22, pressure_kPa: 101.33 };

const CELSIUS = Unit.parse("°C");
const KILOPASCAL = Unit.parse("kPa");
const TO_ABSOLUTE = 273.2;

/**
 * Air density correction of a vented chamber, k_TP = (273.2 + T)/(273.2 + T0)·P0/P (IAEA TRS-398). A scintillator holds
 * no air: it takes none of this.
 *
 * @param temperature - T at the chamber, in °C.
 * @param pressure - P at the chamber's height, in kPa.
 * @throws TypeError for other units, RangeError for a pressure or an absolute temperature not above zero.
 */
export function airDensityCorrection(temperature: Scalar, pressure: Scalar, reference: ReferenceAir): Scalar {
  requireUnit(temperature, CELSIUS, "the temperature");
  requireUnit(pressure, KILOPASCAL, "the pressure");
  requirePositive(TO_ABSOLUTE + temperature.value, "the absolute temperature (in K)");
  requirePositiveNode(pressure, "the pressure");
  const { tape } = temperature;
  const absolute = temperature.plus(tape.literal(TO_ABSOLUTE, CELSIUS));
  const absoluteReference = tape.literal(TO_ABSOLUTE + reference.temperature_C, CELSIUS);
  return absolute.over(absoluteReference).times(tape.literal(reference.pressure_kPa, KILOPASCAL).over(pressure));
}

/**
 * Polarity correction k_pol = (|M₊| + |M₋|)/(2|M|), M the reading at the polarity in routine use (IAEA TRS-398).
 *
 * @param routine - reading at the polarity in routine use; either sign.
 * @param opposite - reading at the other polarity, same unit; either sign.
 * @throws TypeError for unlike units, RangeError for a reading of zero.
 */
export function polarityCorrection(routine: Scalar, opposite: Scalar): Scalar {
  requireUnit(opposite, routine.unit, "the reading at the opposite polarity");
  const used = magnitude(routine, "the reading at the routine polarity");
  return used.plus(magnitude(opposite, "the reading at the opposite polarity")).over(used.times(2));
}

/** Above this correction a chamber is unsuited to the beam (AAPM TG-51, Med. Phys. 26, 1847 (1999)). */
const LARGEST_RECOMBINATION = 1.05;

/**
 * Recombination correction in pulsed beams, two voltages, simple form: (1 − v)/(m − v), v = V_H/V_L, m = M_H/M_L
 * (AAPM TG-51, Med. Phys. 26, 1847 (1999)).
 *
 * @param high - reading at the higher voltage, the one in use.
 * @param low - reading at the lower voltage, same unit and polarity.
 * @param voltageRatio - v, above one.
 * @returns P_ion (k_s) of the higher voltage; valid for m ≥ 1 up to a correction of 1.05.
 * @throws TypeError for unlike units; RangeError for a ratio not above one, for a reading of zero, and where the reading
 *   rises as steeply as the voltage, which recombination cannot do.
 */
export function linearRecombination(high: Scalar, low: Scalar, voltageRatio: number): Qualified {
  const m = readingRatio(high, low, voltageRatio);
  if (m.value >= voltageRatio)
    throw new RangeError(
      `the reading rises by ${m.value} for a voltage ratio of ${voltageRatio}: recombination cannot do that; look for exchanged readings or voltages`,
    );
  return suitable(m.tape.literal(1 - voltageRatio).over(m.minus(voltageRatio)), m);
}

/** One row of the table of quadratic fits: k_s = a0 + a1·m + a2·m². */
export interface RecombinationFit {
  readonly voltageRatio: number;
  readonly a0: number;
  readonly a1: number;
  readonly a2: number;
}

/** Quadratic fits for pulsed beams (IAEA TRS-398, after Weinhaus and Meli, Med. Phys. 11, 846 (1984)). */
export const PULSED_RECOMBINATION: readonly RecombinationFit[] = [
  { voltageRatio: 2, a0: 2.337, a1: -3.636, a2: 2.299 },
  { voltageRatio: 2.5, a0: 1.474, a1: -1.587, a2: 1.114 },
  { voltageRatio: 3, a0: 1.198, a1: -0.875, a2: 0.677 },
  { voltageRatio: 3.5, a0: 1.08, a1: -0.542, a2: 0.463 },
  { voltageRatio: 4, a0: 1.022, a1: -0.363, a2: 0.341 },
  { voltageRatio: 5, a0: 0.975, a1: -0.188, a2: 0.214 },
];

/**
 * Recombination correction in pulsed beams, two voltages, quadratic fit: a0 + a1·m + a2·m², m = M_1/M_2 (IAEA TRS-398).
 *
 * @param high - reading at the higher voltage V_1, the one in use.
 * @param low - reading at the lower voltage V_2, same unit and polarity.
 * @param voltageRatio - V_1/V_2, one of the table's; nothing is interpolated.
 * @returns k_s of the higher voltage; valid for m ≥ 1 up to a correction of 1.05.
 * @throws TypeError for unlike units; RangeError for a reading of zero, and for a ratio that is not in the table, which
 *   it lists.
 */
export function quadraticRecombination(high: Scalar, low: Scalar, voltageRatio: number): Qualified {
  const m = readingRatio(high, low, voltageRatio);
  // 0.3 kV over 0.1 kV is not 3 to the last bit.
  const fit = PULSED_RECOMBINATION.find((row) => Math.abs(row.voltageRatio - voltageRatio) < 1e-9);
  if (fit === undefined) {
    const known = PULSED_RECOMBINATION.map((row) => row.voltageRatio).join(", ");
    throw new RangeError(`the voltage ratio ${voltageRatio} is not in the table: measure at one of ${known}`);
  }
  return suitable(m.times(fit.a2).plus(fit.a1).times(m).plus(fit.a0), m);
}

function readingRatio(high: Scalar, low: Scalar, voltageRatio: number): Scalar {
  if (!(voltageRatio > 1 && voltageRatio < Infinity))
    throw new RangeError(`the voltage ratio is the higher over the lower, above one, but is ${voltageRatio}`);
  requireUnit(low, high.unit, "the reading at the lower voltage");
  const ratio = high.over(low);
  requirePositiveNode(ratio, "the ratio of the readings");
  return ratio;
}

/** A reading that falls when the voltage rises is no recombination: noise, charge multiplication or an exchange. */
function suitable(node: Scalar, m: Scalar): Qualified {
  if (m.value < 1) return qualified(node, false, { quantity: "m", value: m.value, unit: "1", holds: "m >= 1" });
  return qualified(node, node.value <= LARGEST_RECOMBINATION, {
    quantity: "k_s",
    value: node.value,
    unit: "1",
    holds: `k_s <= ${LARGEST_RECOMBINATION}`,
  });
}

function magnitude(reading: Scalar, what: string): Scalar {
  requirePositive(Math.abs(reading.value), `the magnitude of ${what}`);
  return reading.value < 0 ? reading.negative() : reading;
}
