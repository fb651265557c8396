/**
 * The only place where the direction of imports is decided.
 * A row names a folder of src/ and the folders it may import (itself always). '*' = anything.
 * A new direction is its own commit with a page in decisions/.
 */
export const layers = {
  // pure: run in Node, in a worker and in a browser; no IO, no clock, no dice, no Date
  units: [],
  numeric: ['units'],
  domain: ['units', 'numeric'],
  records: ['units', 'domain'],
  ports: ['units', 'domain', 'records'],
  gather: ['units', 'domain', 'records', 'ports'],
  actions: ['units', 'domain', 'records', 'ports', 'gather'],
  questions: ['units', 'domain', 'records', 'ports', 'gather'],
  // shells: thin, replaceable
  words: ['units'],
  storage: ['units', 'records', 'ports'],
  compute: ['units', 'numeric', 'domain', 'ports', 'documents'],
  documents: ['units', 'numeric', 'domain', 'records', 'ports', 'questions', 'words'],
  server: ['units', 'records', 'ports', 'actions', 'questions', 'documents', 'words'],
  screens: ['units', 'domain', 'records', 'ports', 'actions', 'questions', 'compute', 'words'],
  cli: ['units', 'domain', 'records', 'ports', 'actions', 'questions', 'compute', 'documents', 'words'],
  main: ['*'],
};

export const pure = ['units', 'numeric', 'domain', 'records', 'ports', 'gather', 'actions', 'questions'];
export const purePackages = ['zod', 'temporal-polyfill'];
