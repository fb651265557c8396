import { useEffect } from 'react';

/** A key and what it does. Letters act only when no field, grid or dialog has the focus. */
export type KeyMap = Readonly<Record<string, (event: KeyboardEvent) => void>>;

const taking = 'input, textarea, select, [contenteditable], [role="grid"], [role="listbox"], [role="spinbutton"]';

/** True when typing a letter belongs to what has the focus. */
export function isTyping(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest(taking) !== null;
}

/** Single keys can be switched off (WCAG 2.1.4). */
export const keysAreOn = (): boolean => localStorage.getItem('combwright.single-keys') !== 'off';

/** Listens for single keys while the page is open. Keys with Ctrl, Alt or Command are left to the browser. */
export function useKeys(map: KeyMap, whileTyping = false): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
      if (!whileTyping && (isTyping(event.target) || !keysAreOn())) return;
      const act = map[event.key.length === 1 ? event.key.toUpperCase() : event.key];
      if (act === undefined) return;
      event.preventDefault();
      act(event);
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, [map, whileTyping]);
}
