import type { ReactNode } from "react";
import {
  Select as AriaSelect,
  Button,
  Label,
  ListBox,
  ListBoxItem,
  Popover,
  SelectValue,
  Text,
} from "react-aria-components";
import "./select.css";

/** One of the things to choose from. */
interface Choice<Id extends string = string> {
  readonly id: Id;
  readonly name: string;
  /** A word beside it. */
  readonly hint?: string;
}

/** What a choice of one among several is made of. */
export interface SelectProps<Id extends string> {
  readonly label: ReactNode;
  readonly choices: readonly Choice<Id>[];
  readonly chosen: Id | undefined;
  readonly onChoose: (id: Id) => void;
  /** What stands there while nothing is chosen. */
  readonly empty?: string;
  readonly isDisabled?: boolean;
}

/** One of several, from a list that opens. */
export function Select<Id extends string>(props: SelectProps<Id>) {
  const { label, choices, chosen, onChoose, empty = "choose", isDisabled = false } = props;
  return (
    <AriaSelect
      className="select"
      value={chosen ?? null}
      onChange={(key) => {
        const choice = choices.find(({ id }) => id === key);
        if (choice) onChoose(choice.id);
      }}
      placeholder={empty}
      isDisabled={isDisabled}
    >
      <Label className="field-label">{label}</Label>
      <Button className="select-button">
        <SelectValue className="select-value" />
        <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="select-popover">
        <ListBox className="select-list">
          {choices.map(({ id, name, hint }) => (
            <ListBoxItem key={id} id={id} textValue={name} className="select-item">
              <Text slot="label">{name}</Text>
              {hint !== undefined && (
                <Text slot="description" className="field-hint">
                  {hint}
                </Text>
              )}
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </AriaSelect>
  );
}
