import type { LiveColumn, RowCells } from "./sheets.ts";

/** A percentage of two decimals, of a fraction. */
const PERCENT = "0.00%";

/** One cell of a row over another. */
export function ratioColumn(head: string, over: string, under: string, format = PERCENT): LiveColumn {
  return {
    head,
    format,
    formula(row) {
      const [above, below] = [row.number(over), row.number(under)];
      if (above === undefined || below === undefined || below === 0) return undefined;
      return { formula: `${row.cell(over)}/${row.cell(under)}`, value: above / below };
    },
  };
}

/** An uncertainty over the size of its value. */
export function relativeColumn(head: string, uncertainty: string, value: string): LiveColumn {
  return {
    head,
    format: PERCENT,
    formula(row) {
      const [u, size] = [row.number(uncertainty), row.number(value)];
      // of a value that is zero within its uncertainty a percentage says nothing
      if (u === undefined || size === undefined || u >= Math.abs(size)) return undefined;
      return { formula: `${row.cell(uncertainty)}/ABS(${row.cell(value)})`, value: u / Math.abs(size) };
    },
  };
}

/** One cell of a row over another, less one. */
export function differenceColumn(head: string, over: string, under: string): LiveColumn {
  const ratio = ratioColumn(head, over, under, "+0.00%;-0.00%;0.00%");
  return {
    ...ratio,
    formula(row: RowCells) {
      const own = ratio.formula(row);
      return own && { formula: `${own.formula}-1`, value: own.value - 1 };
    },
  };
}

/** A cell of a row over the same cell of another row: that of the reference. */
export function overReferenceColumn(head: string, name: string, reference: RowCells | undefined): LiveColumn {
  return {
    head,
    format: "0.0000",
    formula(row) {
      const [own, other] = [row.number(name), reference?.number(name)];
      if (own === undefined || other === undefined || other === 0 || reference === undefined) return undefined;
      return { formula: `${row.cell(name)}/${absolute(reference.cell(name))}`, value: own / other };
    },
  };
}

function absolute(cell: string): string {
  return cell.replace(/^([A-Z]+)(\d+)$/, "$$$1$$$2");
}
