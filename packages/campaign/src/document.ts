/** The document half of this package: what a campaign is, how its form is read and judged, and its digest. */
export {
  ASSUMPTION_DEFAULTS,
  type Assumptions,
  type ResolvedAssumptions,
  resolveAssumptions,
  type Uncertain,
} from "./assumptions.ts";
export type { Campaign } from "./campaign.ts";
export { canonicalText, digest } from "./canonical.ts";
export type { Characterisation, Identity } from "./characterisation.ts";
export { type Column, type ColumnKind, columnsOf, SIGNAL_PREFIX } from "./columns.ts";
export { type Descriptor, type Resource, SERIES_KINDS, type SeriesKind } from "./descriptor.ts";
export { DESCRIPTOR_FILE } from "./descriptor-faults.ts";
export { applyEdits, type Edit, EditError } from "./edits.ts";
export type { CellConflict } from "./edits-conflict.ts";
export { inverseOf } from "./edits-inverse.ts";
export { type Rebased, rebase } from "./edits-rebase.ts";
export {
  type Finding,
  type FindingLevel,
  isError,
  placeInWords,
  rowAndLine,
  rowInWords,
  sourceInWords,
  type Where,
} from "./finding.ts";
export { type FindingList, findingList } from "./finding-list.ts";
export { formatSchema, type JsonSchema } from "./format-schema.ts";
export { columnAt, columnName } from "./header.ts";
export { isDay } from "./iso-time.ts";
export { dotted, jsonPointer, type KeyPath } from "./key-path.ts";
export { fittingName, NAME_PATTERN } from "./name-text.ts";
export { editDistance, nearestKey } from "./nearest-key.ts";
export { isNumberText } from "./number-text.ts";
export { RANGES, type Range, rangeInWords } from "./range.ts";
export { type CharacterisationReading, readCharacterisation } from "./read-characterisation.ts";
export {
  type DescriptorReading,
  type Outline,
  type OutlineResource,
  outlineOf,
  readDescriptor,
  type TableSeriesKind,
} from "./read-descriptor.ts";
export type {
  BackgroundReading,
  CalibrationReading,
  ExcludedReading,
  OutputCorrection,
  OutputCorrectionSet,
  OutputFactorReading,
  PointSeries,
  Reading,
  ReferenceSet,
  ReferenceValue,
  SeparationReading,
} from "./reading.ts";
export { type Interpretation, interpret, interpretTables, type SeriesReadings } from "./readings.ts";
export { pathFault } from "./resource-path.ts";
export { shown, shownName } from "./shown-text.ts";
export { STRUCTURE_CODES, type StructureCode, type StructureRule } from "./structure-codes.ts";
export { type StructureDetails, structureFinding } from "./structure-finding.ts";
export { isBlankRow, ROW_LIMIT, type Table } from "./table.ts";
export { type TableField, tableFields } from "./table-schema.ts";
