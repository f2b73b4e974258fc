/**
 * Units as products of base symbols with exponents: enough to refuse adding a charge to a dose.
 *
 * Any symbol can be a base ("nC", "Gy", "s", "MU"): conversions are not made here, so nC and pC are different units.
 * Units are interned, equal units are the same object, and comparison is by identity.
 */
export class Unit {
  /** Canonical text, such as `Gy/nC`, `1/s`, `mm²` or `1`. */
  readonly symbol: string;
  readonly #exponents: ReadonlyMap<string, number>;
  readonly #products = new Map<Unit, Unit>();
  readonly #quotients = new Map<Unit, Unit>();

  private constructor(exponents: ReadonlyMap<string, number>, symbol: string) {
    this.#exponents = exponents;
    this.symbol = symbol;
  }

  static readonly #interned = new Map<string, Unit>();

  static #of(exponents: Map<string, number>): Unit {
    for (const [base, exponent] of exponents) if (exponent === 0) exponents.delete(base);
    const symbol = write(exponents);
    const known = Unit.#interned.get(symbol);
    if (known) return known;
    const unit = new Unit(exponents, symbol);
    Unit.#interned.set(symbol, unit);
    return unit;
  }

  /**
   * Reads `Gy/nC`, `nC/s`, `1/s`, `mm²`, `1`: at most one solidus, factors joined by `·`, exponents as they are written.
   * @throws RangeError where a factor is empty, an exponent is no number or there is more than one solidus.
   */
  static parse(text: string): Unit {
    const [above = "", below, ...rest] = text.split("/");
    const exponents = new Map<string, number>();
    const take = (part: string, sign: number) => {
      for (const factor of part.split("·")) {
        const [, base, raised, mark] = /^([^^²³⁴]+)(?:\^(\d+(?:\.\d+)?)|([²³⁴]))?$/u.exec(factor) ?? [];
        if (factor === "") throw new RangeError(`"${text}" is not a unit: a factor is empty`);
        if (base === undefined)
          throw new RangeError(`"${text}" is not a unit: "${factor}" is not a symbol with at most one exponent`);
        const exponent = raised !== undefined ? Number(raised) : mark ? "  ²³⁴".indexOf(mark) : 1;
        if (base !== "1") exponents.set(base, (exponents.get(base) ?? 0) + sign * exponent);
      }
    };
    if (rest.length > 0) throw new RangeError(`"${text}" is not a unit: more than one solidus`);
    take(above, 1);
    if (below !== undefined) take(below, -1);
    return Unit.#of(exponents);
  }

  times(other: Unit): Unit {
    return remembered(this.#products, other, () => this.#combine(other, 1));
  }

  over(other: Unit): Unit {
    return remembered(this.#quotients, other, () => this.#combine(other, -1));
  }

  /** The unit to a real power; exponents such as 1/2 may arise on the way. */
  power(exponent: number): Unit {
    return Unit.#of(new Map([...this.#exponents].map(([base, e]) => [base, e * exponent])));
  }

  #combine(other: Unit, sign: number): Unit {
    const exponents = new Map(this.#exponents);
    for (const [base, e] of other.#exponents) exponents.set(base, (exponents.get(base) ?? 0) + sign * e);
    return Unit.#of(exponents);
  }
}

function remembered(known: Map<Unit, Unit>, other: Unit, make: () => Unit): Unit {
  const unit = known.get(other) ?? make();
  known.set(other, unit);
  return unit;
}

const SUPERSCRIPT: Readonly<Record<string, string>> = { "2": "²", "3": "³", "4": "⁴" };

/** The bases in alphabetical order, so that equal units have equal texts. */
function write(exponents: ReadonlyMap<string, number>): string {
  const part = (sign: 1 | -1) =>
    [...exponents]
      .filter(([, e]) => sign * e > 0)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([base, e]) => base + (sign * e === 1 ? "" : (SUPERSCRIPT[`${sign * e}`] ?? `^${sign * e}`)))
      .join("·");
  const below = part(-1);
  return (part(1) || "1") + (below && `/${below}`);
}

/** The dimensionless unit. */
export const ONE = Unit.parse("1");
