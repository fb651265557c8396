/** Stops with one clear line on a Node that is too old. */
export function needNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major > 20 || (major === 20 && minor >= 19)) return;
  console.error(`Combwright needs Node 20.19 or newer; this is ${process.versions.node}. Get it from nodejs.org.`);
  process.exit(1);
}
