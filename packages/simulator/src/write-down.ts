import { isoTime } from "./calendar.ts";
import type { Exposure } from "./exposure.ts";
import { trueWidths } from "./field-truth.ts";
import type { Laboratory } from "./laboratory.ts";
import { meantFields } from "./schedule.ts";
import { fixed, type Row, type Sheet } from "./sheet.ts";
import { SERIES, type SeriesName } from "./shot.ts";
import type { TypeBErrors } from "./type-b-errors.ts";

const PREFIX: Readonly<Record<SeriesName, string>> = {
  background: "b",
  separation: "s",
  calibration: "c",
  "output-factors": "r",
};

/**
 * Writes the readings down, series by series: what the instruments show, cut to their digits, and what the physicist
 * holds to be true of the set-up.
 */
export function writeDown(laboratory: Laboratory, exposures: readonly Exposure[], errors: TypeBErrors): Sheet[] {
  return SERIES.flatMap((series) => {
    const own = exposures.filter(({ shot }) => shot.series === series);
    if (own.length === 0) return [];
    const write = writer(laboratory, series, errors);
    const rows = own.map((exposure, i): Row => {
      const reading = `${PREFIX[series]}${String(i + 1).padStart(3, "0")}`;
      return { reading, condition: exposure.shot.condition, ...write(exposure) };
    });
    const filled = new Set(rows.flatMap((row) => Object.keys(row)));
    return [{ series, columns: [...filled], rows }];
  });
}

function writer(laboratory: Laboratory, series: SeriesName, errors: TypeBErrors): (exposure: Exposure) => Row {
  const { fibre, reader, monitor, physicist } = laboratory;
  const { plan, start, utcOffset, writes } = physicist;
  const beamOn = series !== "background";
  const readsMonitor = monitor && beamOn && physicist.readsMonitorIn.includes(series);
  const more = particulars(laboratory, series, errors);
  return (exposure) => {
    const { shot, signals_nC, temperature_C } = exposure;
    return {
      ...(writes.time && { time: isoTime(start, utcOffset, shot.time_s) }),
      ...(plan.background && { duration_s: String(shot.duration_s) }),
      ...(writes.mu && beamOn && { mu: String(shot.mu) }),
      ...(readsMonitor && { monitor: fixed(exposure.monitor!, monitor.decimals) }),
      ...(writes.temperature && { temperature_C: fixed(temperature_C, physicist.decimals.temperature) }),
      ...Object.fromEntries(
        fibre.channels.map((channel, c) => [`signal_${channel}`, fixed(signals_nC[c]!, reader.decimals)]),
      ),
      ...more(exposure),
    };
  };
}

/** The columns of one series alone. */
function particulars(laboratory: Laboratory, series: SeriesName, errors: TypeBErrors): (exposure: Exposure) => Row {
  const { beam, physicist } = laboratory;
  const { plan, stated } = physicist;
  const meant = meantFields(plan)[series];
  switch (series) {
    case "background":
      return () => ({});
    case "separation": {
      const arrangements = new Map(plan.separation.map((arrangement) => [arrangement.name, arrangement]));
      const dose_u_Gy = fixed(
        (stated.groupDose_u_percent / 100) * plan.mu * beam.dosePerMU_Gy,
        physicist.decimals.dose,
      );
      return ({ shot, chamber_Gy }) => {
        const { doseGroup, role, doseKnown, fibre_mm } = arrangements.get(shot.condition)!;
        const known = doseKnown && {
          dose_Gy: fixed(chamber_Gy * errors.groupDose(doseGroup), physicist.decimals.dose),
          dose_u_Gy,
        };
        return { dose_group: doseGroup, role, ...known, fibre_mm: String(fibre_mm) };
      };
    }
    case "calibration": {
      const constant = plan.mu * beam.dosePerMU_Gy;
      return ({ chamber_Gy }) => {
        const dose = plan.calibration?.dose === "constant" ? constant : chamber_Gy;
        return {
          dose_Gy: fixed(dose * errors.calibrationDose, physicist.decimals.dose),
          dose_u_percent: String(stated.calibrationDose_u_percent),
        };
      };
    }
    case "output-factors": {
      const described = new Map([...meant.keys()].map((name) => [name, fieldCells(laboratory, name, errors)]));
      const { reference } = plan.outputFactors;
      return ({ shot: { condition } }) => ({
        role: condition === reference.name ? "reference" : "field",
        ...described.get(condition)!,
      });
    }
  }
}

/** A field as it is meant, and its widths as the scan showed them. */
function fieldCells({ beam, physicist }: Laboratory, condition: string, errors: TypeBErrors): Row {
  const { aperture } = meantFields(physicist.plan)["output-factors"].get(condition)!;
  const [x, y] = trueWidths(beam, aperture);
  const [ex, ey] = errors.fieldWidth_mm(condition);
  const circle = aperture.shape === "circle";
  return {
    shape: aperture.shape,
    x_mm: circle ? "" : String(aperture.x_mm),
    y_mm: circle ? "" : String(aperture.y_mm),
    diameter_mm: circle ? String(aperture.diameter_mm) : "",
    fwhm_x_mm: fixed(x + ex, physicist.decimals.width),
    fwhm_y_mm: fixed(y + ey, physicist.decimals.width),
  };
}
