import type { ReactNode } from "react";
import { Menu as AriaMenu, Button, MenuItem, MenuTrigger, Popover, Text } from "react-aria-components";
import { Key } from "./key.tsx";
import "./menu.css";

/** One line of a menu. */
export interface MenuLine {
  readonly id: string;
  readonly name: string;
  /** The key that does the same. */
  readonly press?: string;
  readonly onAction: () => void;
  readonly isDisabled?: boolean;
}

/** A button that opens a list of things to do. */
export function Menu({ label, lines }: { readonly label: ReactNode; readonly lines: readonly MenuLine[] }) {
  return (
    <MenuTrigger>
      <Button className="button button-plain">
        {label} <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="select-popover">
        <AriaMenu
          className="select-list"
          disabledKeys={lines.filter(({ isDisabled }) => isDisabled).map(({ id }) => id)}
          onAction={(key) => lines.find(({ id }) => id === key)?.onAction()}
        >
          {lines.map(({ id, name, press }) => (
            <MenuItem key={id} id={id} textValue={name} className="menu-item">
              <Text slot="label">{name}</Text>
              {press !== undefined && <Key>{press}</Key>}
            </MenuItem>
          ))}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  );
}
