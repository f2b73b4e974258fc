import type { ReactNode } from "react";
import {
  TextField as AriaTextField,
  type TextFieldProps as AriaTextFieldProps,
  FieldError,
  Input,
  Label,
  Text,
  TextArea,
} from "react-aria-components";
import "./text-field.css";

/** What a line or a block of text to fill in is made of. */
export interface TextFieldProps extends Omit<AriaTextFieldProps, "className" | "style" | "children" | "isInvalid"> {
  readonly label: ReactNode;
  /** What to write, and why; stands under the label, before the field. */
  readonly hint?: ReactNode;
  /** What is wrong with it and how to mend it. */
  readonly error?: string | undefined;
  /** Numbers and codes, in digits of equal width. */
  readonly mono?: boolean;
  /** More than one line. */
  readonly lines?: number;
}

/** A field for words or a number as text. */
export function TextField({ label, hint, error, mono = false, lines, ...rest }: TextFieldProps) {
  const look = `text-input${mono ? " number" : ""}`;
  return (
    // what is wrong is said, and sent again all the same: a browser that blocks the form would not ask the server anew
    <AriaTextField {...rest} validationBehavior="aria" isInvalid={error !== undefined} className="text-field">
      <Label className="field-label">{label}</Label>
      {hint !== undefined && (
        <Text slot="description" className="field-hint">
          {hint}
        </Text>
      )}
      {lines === undefined ? <Input className={look} /> : <TextArea className={look} rows={lines} />}
      <FieldError className="field-error">{error}</FieldError>
    </AriaTextField>
  );
}
