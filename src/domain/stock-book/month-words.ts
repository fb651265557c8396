/** Months as people write them in six languages, plain (lower case, no accents), January first. */
const months: readonly (readonly string[])[] = [
  [
    'january',
    'januar',
    'janner',
    'janvier',
    'enero',
    'gennaio',
    'styczen',
    'stycznia',
    'jan',
    'janv',
    'ene',
    'gen',
    'sty',
  ],
  ['february', 'februar', 'feber', 'fevrier', 'febrero', 'febbraio', 'luty', 'lutego', 'feb', 'fevr', 'lut'],
  ['march', 'marz', 'maerz', 'mars', 'marzo', 'marzec', 'marca', 'mar', 'mrz'],
  ['april', 'avril', 'abril', 'aprile', 'kwiecien', 'kwietnia', 'apr', 'avr', 'abr', 'kwi'],
  ['may', 'mai', 'mayo', 'maggio', 'maj', 'maja', 'mag'],
  ['june', 'juni', 'juin', 'junio', 'giugno', 'czerwiec', 'czerwca', 'jun', 'giu', 'cze'],
  ['july', 'juli', 'juillet', 'julio', 'luglio', 'lipiec', 'lipca', 'jul', 'juil', 'lug', 'lip'],
  ['august', 'aout', 'agosto', 'sierpien', 'sierpnia', 'aug', 'ago', 'sie'],
  ['september', 'septembre', 'septiembre', 'settembre', 'wrzesien', 'wrzesnia', 'sep', 'sept', 'set', 'wrz'],
  ['october', 'oktober', 'octobre', 'octubre', 'ottobre', 'pazdziernik', 'pazdziernika', 'oct', 'okt', 'ott', 'paz'],
  ['november', 'novembre', 'noviembre', 'listopad', 'listopada', 'nov', 'lis'],
  ['december', 'dezember', 'decembre', 'diciembre', 'dicembre', 'grudzien', 'grudnia', 'dec', 'dez', 'dic', 'gru'],
];

const byWord = new Map(months.flatMap((words, month) => words.map((word) => [word, month + 1] as const)));

/** The month (1-12) a plain word names, if it does. */
export const monthNamed = (plain: string): number | null => byWord.get(plain) ?? null;
