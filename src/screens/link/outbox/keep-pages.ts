/**
 * Keeps the pages on this device, where the browser allows it (this machine, or a trusted certificate; not plain http on a network):
 * then the bench opens while the server is away. Answers whether it can.
 */
export async function keepPages(): Promise<boolean> {
  if (!('serviceWorker' in navigator)) return false;
  await navigator.serviceWorker.register('/offline.js');
  const { active } = await navigator.serviceWorker.ready;
  const loaded = performance.getEntriesByType('resource').map(({ name }) => name);
  const files = loaded.filter((name) => new URL(name).pathname.startsWith('/assets/'));
  active?.postMessage({ keep: ['/', ...files] });
  return true;
}
