import { type Descriptor, readDescriptor } from "@alcedo-dosimetry/campaign";
import { FieldFault, type SetUpField, type SetUpGroup, withField } from "./set-up-fields.ts";

/** What is typed into a form, by path. */
export type Typed = Readonly<Record<string, string>>;

/** Names a field among what is typed. */
export const fieldKey = ({ path }: SetUpField) => path.join(".");

/** What a form makes of a descriptor: it with everything that is typed, and what is wrong, by field. */
export interface Filled {
  readonly descriptor: Descriptor;
  readonly faults: Readonly<Record<string, string>>;
}

/** A descriptor with what is typed into a form; what the descriptor's rules say against it stands beside its field. */
export function filled(base: Descriptor, groups: readonly SetUpGroup[], typed: Typed): Filled {
  const faults: Record<string, string> = {};
  let descriptor = base;
  for (const field of groups.flatMap(({ fields }) => fields)) {
    const text = typed[fieldKey(field)];
    if (text === undefined) continue;
    try {
      descriptor = withField(descriptor, field, text);
    } catch (error) {
      if (!(error instanceof FieldFault)) throw error;
      faults[fieldKey(field)] = error.message;
    }
  }
  for (const { level, message, where } of readDescriptor(descriptor).findings) {
    if (level !== "error" || where?.key === undefined) continue;
    const at = where.key.slice(1).replaceAll("/", ".");
    const field = groups
      .flatMap(({ fields }) => fields)
      .find((own) => at === fieldKey(own) || fieldKey(own).startsWith(`${at}.`));
    if (field) faults[fieldKey(field)] ??= message.replace(/^datapackage\.json: (?:alcedo\.)?/, "");
  }
  return { descriptor, faults };
}
