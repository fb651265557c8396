/**
 * A PostgreSQL server of our own for the tests: made in a temporary folder, listening on loopback only, gone afterwards.
 * PostgreSQL refuses to run as root, so root hands it to the user `postgres`.
 */
import { spawnSync } from 'node:child_process';
import { chownSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sh, succeeds } from './run.mjs';

const isRoot = process.getuid?.() === 0;
const hasApt = existsSync('/usr/bin/apt-get');

function binaries() {
  const root = '/usr/lib/postgresql';
  const versions = existsSync(root) ? readdirSync(root).sort((a, b) => Number(b) - Number(a)) : [];
  for (const version of versions) {
    const folder = `${root}/${version}/bin`;
    if (existsSync(`${folder}/initdb`)) return folder;
  }
  const onPath = spawnSync('sh', ['-c', 'dirname "$(command -v initdb)"'], { encoding: 'utf8' });
  return onPath.status === 0 && onPath.stdout.trim() !== '' ? onPath.stdout.trim() : null;
}

function installFromDebian() {
  if (!isRoot || !hasApt) return;
  console.error('Combwright: installing PostgreSQL from Debian for the tests …');
  // Debian would start a server of its own on port 5432.
  mkdirSync('/etc/postgresql-common', { recursive: true });
  if (!existsSync('/etc/postgresql-common/createcluster.conf'))
    writeFileSync('/etc/postgresql-common/createcluster.conf', 'create_main_cluster = false\n');
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const quiet = { env, stdio: ['ignore', 'ignore', 2] };
  spawnSync('apt-get', ['update', '-qq'], quiet);
  spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'postgresql'], quiet);
}

const freePort = () =>
  new Promise((resolve, reject) => {
    const server = createServer()
      .once('error', reject)
      .listen(0, '127.0.0.1', () => {
        const { port } = server.address();
        server.close(() => resolve(port));
      });
  });

/** Starts a server. Gives its URL and how to stop it, or the reason there is none. */
export async function startPostgres() {
  if (binaries() === null) installFromDebian();
  const bin = binaries();
  if (bin === null) return { reason: 'no PostgreSQL here and no rights to install it' };
  if (isRoot && !succeeds('id', ['postgres'])) return { reason: 'no user "postgres" to run the server as' };
  const folder = mkdtempSync(join(tmpdir(), 'combwright-postgres-'));
  const asPostgres = (command, args) =>
    isRoot
      ? ['setpriv', ['--reuid=postgres', '--regid=postgres', '--clear-groups', command, ...args]]
      : [command, args];
  if (isRoot) {
    const id = (flag) => Number(spawnSync('id', [flag, 'postgres'], { encoding: 'utf8' }).stdout);
    chownSync(folder, id('-u'), id('-g'));
  }
  const data = join(folder, 'data');
  const quiet = { stdio: ['ignore', 'ignore', 2], cwd: folder };
  const authority = ['-A', 'trust', '-U', 'combwright'];
  sh(...asPostgres(`${bin}/initdb`, ['--no-sync', '-E', 'UTF8', '--locale=C.UTF-8', ...authority, data]), quiet);
  const port = await freePort();
  const settings = `-c listen_addresses=127.0.0.1 -c port=${port} -c unix_socket_directories=${folder}`;
  const control = (args) => asPostgres(`${bin}/pg_ctl`, ['-D', data, '-w', ...args]);
  sh(...control(['-o', settings, '-l', join(folder, 'log'), 'start']), quiet);
  return {
    url: `postgres://combwright@127.0.0.1:${port}/postgres`,
    stop() {
      spawnSync(...control(['-m', 'immediate', 'stop']), { stdio: 'ignore', cwd: folder });
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
