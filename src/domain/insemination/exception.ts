/** What can go otherwise than planned while a queen is inseminated: a closed list. The first nine have a digit at the bench. */
export const exceptionKinds = [
  'leak',
  'hard-to-pass',
  'chamber-closed',
  'injury',
  'faeces',
  'bubble',
  'plug',
  'second-try',
  'died',
  'woke',
  'escaped',
  'semen-short',
  'semen-watery',
  'flagged',
] as const;
export type ExceptionKind = (typeof exceptionKinds)[number];

/** Why a queen of the queue was not inseminated. */
export const notDoneReasons = ['dead', 'gone', 'crippled', 'too-small', 'put-back', 'other'] as const;
export type NotDoneReason = (typeof notDoneReasons)[number];

/** The exception of a digit 1-9 (1 = leak, the frequent one); null for any other number. */
export const exceptionOfDigit = (digit: number): ExceptionKind | null =>
  Number.isInteger(digit) && digit >= 1 && digit <= 9 ? (exceptionKinds[digit - 1] ?? null) : null;
