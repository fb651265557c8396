/** What a stopped computation rejects with. */
export function stopped(): Error {
  const error = new Error('stopped');
  error.name = 'AbortError';
  return error;
}
