import { commands } from '#cli/registry.ts';
import { run } from '#cli/run.ts';
import { machineWorld } from './world.ts';

// Whoever reads the answer may have seen enough (`| head`): then nothing is left to do.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(0);
});

const { world, close } = machineWorld();
const terminal = {
  out: (text: string) => void process.stdout.write(text),
  err: (text: string) => void process.stderr.write(text),
};

const status = await run(process.argv.slice(2), commands, { world, terminal });
await close();
// Serving goes on until Ctrl-C; everything else ends here.
if (status !== 0 || process.argv[2] !== 'start') process.exitCode = status;
