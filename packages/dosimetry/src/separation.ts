import {
  fitStructure,
  fUpper,
  ONE,
  type Scalar,
  type StructuralPoint,
  type StructuralState,
  Unit,
} from "@alcedo-dosimetry/metrology";
import type { Chain } from "./chain.ts";
import { correctedSignal, type SeparationWeights, stemLoad } from "./corrected-signal.ts";
import { addNetSignals, type Divisor, type NetCondition, type NetSeries } from "./net-signal.ts";
import { type ConditionRows, conditionsOf, counting, type Reading, type Series } from "./readings.ts";

/** A reading of the separation series. */
export interface SeparationReading extends Reading {
  /** Readings of one group gave the active volume the same dose. */
  readonly doseGroup: string;
  readonly role: "fit" | "verify";
  readonly dose_Gy?: number;
  /** The group's own part of the dose's standard uncertainty. */
  readonly dose_u_Gy?: number;
}

/** A condition of the separation with what the fit made of it. */
export interface SeparationCondition extends NetCondition {
  readonly role: "fit" | "verify";
  readonly doseGroup: string;
  /** S of the normalised signals. */
  readonly corrected: Scalar;
  /** How far it leans on the weights: q_2/S. */
  readonly load: Scalar;
  /** Its dose over its group's: a node near one. */
  readonly level: Scalar;
  /** What S should be: the group's intercept, or one over the coefficient; undefined where nothing says. */
  readonly expected: Scalar | undefined;
  /** δ = S/(I·e) − 1: how far it lies from its group; undefined where nothing says what S should be. */
  readonly residual: Scalar | undefined;
}

/** The separation of one day. */
export interface Separation extends SeparationWeights {
  readonly conditions: readonly SeparationCondition[];
  readonly net: NetSeries;
  /** Degrees of freedom of the fit. */
  readonly dof: number;
  readonly chi2: number;
  /** Of χ²/dof against F with the pooled ν; undefined where dof is 0 or type A unknown. */
  readonly p: number | undefined;
  /** Dose per corrected signal, where some group's dose is known. */
  readonly coefficient: Scalar | undefined;
  /** (q_2/I)_max over (q_2/I)_min of the fit conditions. */
  readonly contrast: Scalar;
  readonly state: StructuralState;
}

/**
 * Finds the weights: the linear structural relation through the fit conditions, one intercept per dose group; groups
 * with known dose share one, 1/N_D (their readings are divided by their dose).
 *
 * @param doseEquality_u relative standard uncertainty of the equality of dose within a group.
 * @throws IndeterminateFitError where the conditions do not determine the weights.
 */
export function addSeparation(chain: Chain, series: Series<SeparationReading>, doseEquality_u: number): Separation {
  const { model, channels, signalUnit } = chain;
  const rows = conditionsOf(series);
  const first = ({ rows: own }: ConditionRows) => series.readings[counting(series, own)[0]!]!;
  const known = new Set(
    rows.filter((condition) => first(condition).dose_Gy !== undefined).map((c) => first(c).doseGroup),
  );
  const fluctuation = fluctuationDivisor(series);
  const net = addNetSignals(chain, series, rows, {
    divisor: (condition) => (known.has(first(condition).doseGroup) ? "dose" : fluctuation),
    dose_Gy: (_, row) => series.readings[row]!.dose_Gy,
  });
  const fit = rows.map((_, i) => i).filter((i) => first(rows[i]!).role === "fit");
  const knownFitGroups = new Set(fit.map((i) => first(rows[i]!).doseGroup).filter((group) => known.has(group)));
  const groupDose = new GroupDoses(chain, series);
  const levels = net.conditions.map(({ name }, i) => {
    const equality = model.estimate({
      key: `separation/${name}/dose-equality`,
      symbol: `e_${name}`,
      label: `dose of ${name} over its group's`,
      type: "B",
      unit: ONE,
      value: 1,
      u: doseEquality_u,
    });
    const { doseGroup } = first(rows[i]!);
    const own = known.has(doseGroup) ? groupDose.of(doseGroup) : undefined;
    const level = own ? equality.times(own.node) : equality;
    // a single known dose is a matter of the coefficient: its error moves all of its conditions alike
    const own_u = own && knownFitGroups.size > 1 ? own.u : 0;
    return { level, spread: Math.sqrt(doseEquality_u * doseEquality_u + own_u * own_u) };
  });
  // intercepts in the order in which their groups first stand among the fit conditions; known doses share one
  const interceptName = (i: number) => (known.has(first(rows[i]!).doseGroup) ? "" : first(rows[i]!).doseGroup);
  const intercepts = [...new Set(fit.map(interceptName))];
  const points = fit.map((i): StructuralPoint => {
    const { name, normalised, weightCovariance } = net.conditions[i]!;
    return {
      coordinates: normalised,
      level: levels[i]!.level,
      levelSpread: levels[i]!.spread,
      covariance: fixedWeights(chain, name, weightCovariance, normalised[0]!.unit),
      intercept: intercepts.indexOf(interceptName(i)),
    };
  });
  const perDose = signalUnit.over(Unit.parse("Gy"));
  const { parameters, state } = fitStructure(
    model,
    points,
    [
      ...channels.slice(1).map((channel) => `a_${channel}`),
      ...intercepts.map((name) => (name ? `I_${name}` : "1/N_D")),
    ],
    [...channels.slice(1).map(() => ONE), ...intercepts.map((name) => (name ? signalUnit : perDose))],
  );
  const weights = parameters.slice(0, channels.length - 1);
  const stemRatio =
    channels.length === 2 ? weights[0]!.negative().named("separation.stem-ratio", "ρ", "stem ratio") : undefined;
  if (!stemRatio)
    weights.forEach((weight, c) => {
      const channel = channels[c + 1]!;
      weight.named(`separation.weight.${channel}`, `a_${channel}`, `separation weight of ${channel}`);
    });
  const intercept = new Map(
    intercepts.map((name, k) => [
      name,
      parameters[channels.length - 1 + k]!.named(
        name ? `separation/group ${name}/intercept` : "separation/intercept",
        name ? `I_${name}` : "I",
        name ? `corrected signal of group ${name}` : "corrected signal per dose, from the separation",
      ),
    ]),
  );
  const separation: SeparationWeights = { weights, ...(stemRatio && { stemRatio }) };
  const conditions = net.conditions.map((condition, i): SeparationCondition => {
    const { role, doseGroup } = first(rows[i]!);
    const { name, normalised } = condition;
    const corrected = correctedSignal(separation, normalised).named(
      `separation/${name}/corrected`,
      `S_${name}`,
      `corrected signal, normalised, ${name}`,
    );
    const { level } = levels[i]!;
    const expected = intercept.get(interceptName(i));
    return {
      ...condition,
      role,
      doseGroup,
      corrected,
      load: stemLoad(normalised, corrected),
      level,
      expected,
      residual: expected && corrected.over(expected.times(level)).minus(1),
    };
  });
  const shared = intercept.get("");
  return {
    ...separation,
    conditions,
    net,
    dof: state.dof,
    chi2: state.chi2,
    p: state.dof > 0 && net.dof !== undefined ? fUpper(state.chi2 / state.dof, state.dof, net.dof) : undefined,
    coefficient: shared && model.tape.literal(1).over(shared),
    contrast: contrastOf(conditions.filter(({ role }) => role === "fit")),
    state,
  };
}

/** By the monitor where every reading that counts has one, else by MU alike, else not at all. */
export function fluctuationDivisor(series: Series): Divisor {
  const live = series.readings.filter(({ exclude }) => exclude === undefined);
  if (live.every(({ monitor }) => monitor !== undefined)) return "monitor";
  return live.every(({ mu }) => mu !== undefined) ? "mu" : "none";
}

/** (q_2/I) of the condition with most fibre over that with least. */
function contrastOf(conditions: readonly SeparationCondition[]): Scalar {
  const ratios = conditions.map(({ normalised, expected, level }) => normalised[1]!.over(expected!.times(level)));
  const most = ratios.reduce((a, b) => (b.value > a.value ? b : a));
  const least = ratios.reduce((a, b) => (b.value < a.value ? b : a));
  return most.over(least);
}

/** The weights' covariances stand in the model as fixed numbers that came from the series. */
function fixedWeights({ model, channels }: Chain, condition: string, covariance: Float64Array, unit: Unit): Scalar[] {
  const n = channels.length;
  return channels.flatMap((first, c) =>
    channels.slice(c).map((second, k) =>
      model.constant({
        key: `separation/${condition}/weight/${first}-${second}`,
        symbol: `V_${first},${second}`,
        label: `covariance of ${first} and ${second} for the weight of ${condition}`,
        unit: unit.power(2),
        value: covariance[c * n + c + k]!,
        derivedFrom: "separation",
      }),
    ),
  );
}

/** The relative error of each group's known dose: one input of value one per group. */
class GroupDoses {
  readonly #chain: Chain;
  readonly #series: Series<SeparationReading>;
  readonly #made = new Map<string, { node: Scalar; u: number }>();

  constructor(chain: Chain, series: Series<SeparationReading>) {
    this.#chain = chain;
    this.#series = series;
  }

  of(group: string): { node: Scalar; u: number } {
    const known = this.#made.get(group);
    if (known) return known;
    const own = this.#series.readings.filter(({ exclude, doseGroup }) => exclude === undefined && doseGroup === group);
    // readings of one group may state different doses (a chamber read each), but share the group's relative error
    const u = Math.max(...own.map(({ dose_Gy, dose_u_Gy }) => (dose_u_Gy ?? 0) / dose_Gy!));
    const node = this.#chain.model.estimate({
      key: `separation/group ${group}/dose`,
      symbol: `d_${group}`,
      label: `dose of group ${group} over its stated value`,
      type: "B",
      unit: ONE,
      value: 1,
      u,
    });
    const made = { node, u };
    this.#made.set(group, made);
    return made;
  }
}
