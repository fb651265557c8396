import { spawn } from 'node:child_process';

const openers: Readonly<Record<string, string>> = { darwin: 'open', win32: 'explorer', linux: 'xdg-open' };

/** Opens the page where there is a desktop and a person has not said BROWSER=none. Failing is no failure. */
export function openBrowser(url: string, env = process.env): void {
  const desktop = process.platform !== 'linux' || env.DISPLAY || env.WAYLAND_DISPLAY;
  const opener = openers[process.platform];
  if (env.BROWSER === 'none' || !desktop || opener === undefined) return;
  const child = spawn(env.BROWSER || opener, [url], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}
