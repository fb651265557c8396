/** Paper for bright rooms, the lamps for rooms below about 200 lux. */
const themes = ['paper', 'lamp', 'red'] as const;
export type BoardTheme = (typeof themes)[number];

const NAME = 'combwright.bench.theme';

const isTheme = (text: string | null): text is BoardTheme => themes.some((theme) => theme === text);

/** The theme of the board on this device; paper until another was chosen, because insemination rooms are bright. */
export function boardTheme(): BoardTheme {
  const kept = localStorage.getItem(NAME);
  return isTheme(kept) ? kept : 'paper';
}

export const nextTheme = (theme: BoardTheme): BoardTheme =>
  themes[(themes.indexOf(theme) + 1) % themes.length] ?? 'paper';

export function putTheme(theme: BoardTheme): BoardTheme {
  localStorage.setItem(NAME, theme);
  return theme;
}
