import type { ImportChoices } from '#domain/stock-book/choices.ts';
import type { Rehearsal } from '#domain/stock-book/rehearsal.ts';
import type { ReadAs, TableProblem } from '#domain/stock-book/table.ts';
import { say, sayAny } from '#words/say.ts';
import { SelectField } from '../parts/form.tsx';
import type { Bringing } from './use-import.ts';

type Choose = (some: Partial<ImportChoices>) => void;

const encodings = ['', 'utf-8', 'utf-16le', 'utf-16be', 'windows-1252', 'windows-1250'] as const;
const separators = ['', ';', ',', '\t', '|'] as const;
const separatorWords = (separator: string): string =>
  separator === ''
    ? say('import.by-itself')
    : sayAny(`import.separator.${{ ';': 'semicolon', ',': 'comma', '\t': 'tab', '|': 'bar' }[separator]}`);

function TextChoices({ choices, onChoose }: { choices: ImportChoices; onChoose: Choose }) {
  const put = (name: 'encoding' | 'separator', value: string) => {
    const { [name]: _, ...others } = choices;
    onChoose({ ...others, [name]: value === '' ? undefined : value } as Partial<ImportChoices>);
  };
  return (
    <>
      <SelectField
        label={say('import.encoding')}
        value={choices.encoding ?? ''}
        onChange={(value) => put('encoding', value)}
        choices={encodings.map((value) => ({
          value: value as string,
          words: value === '' ? say('import.by-itself') : value,
        }))}
      />
      <SelectField
        label={say('import.separator')}
        value={choices.separator ?? ''}
        onChange={(value) => put('separator', value)}
        choices={separators.map((value) => ({ value: value as string, words: separatorWords(value) }))}
      />
    </>
  );
}

/** How the file was read, in one sentence. */
export function readAsWords({ form, encoding, separator, sheet }: ReadAs): string {
  if (form === 'workbook') return say('import.read-workbook', { sheet: sheet ?? '' });
  return say('import.read-text', { encoding: encoding ?? '', separator: separatorWords(separator ?? '') });
}

/** How the file was read, and what to change where that is wrong. */
export function ReadAsChoices({
  bringing,
  rehearsal,
  onChoose,
}: {
  bringing: Bringing;
  rehearsal: Rehearsal;
  onChoose: Choose;
}) {
  const { readAs, headerRow, firstRows } = rehearsal;
  const { choices } = bringing;
  return (
    <details className="assumptions">
      <summary>
        {bringing.name}: {readAsWords(readAs)} {say('import.header-row', { row: headerRow })}
      </summary>
      <div className="fields read-as">
        {readAs.form === 'text' ? <TextChoices choices={choices} onChoose={onChoose} /> : null}
        {readAs.sheets.length > 1 ? (
          <SelectField
            label={say('import.sheet')}
            value={choices.sheet ?? readAs.sheet ?? ''}
            onChange={(sheet) => onChoose({ sheet, columns: {}, fixes: {} })}
            choices={readAs.sheets.map((value) => ({ value, words: value }))}
          />
        ) : null}
        <SelectField
          label={say('import.header')}
          value={String(headerRow)}
          onChange={(row) => onChoose({ headerRow: Number(row), columns: {} })}
          choices={[
            { value: '0', words: say('import.no-header') },
            ...firstRows.map(({ number, texts }) => ({
              value: String(number),
              words: `${number}: ${texts
                .filter((text) => text !== '')
                .join(' · ')
                .slice(0, 60)}`,
            })),
          ]}
        />
      </div>
    </details>
  );
}

/** Why a file is no table, and what may be changed so that it is. */
export function NoTable({
  problem,
  bringing,
  onChoose,
}: {
  problem: TableProblem;
  bringing: Bringing;
  onChoose: Choose;
}) {
  const { code, row, values } = problem;
  return (
    <div className="problems" role="alert">
      <h3>{say('import.no-table', { name: bringing.name })}</h3>
      <p>
        {row === null ? '' : `${say('import.row', { row })}: `}
        {sayAny(`problem.${code}`, values)}
      </p>
      <div className="form">
        <div className="fields">
          <TextChoices choices={bringing.choices} onChoose={onChoose} />
        </div>
      </div>
    </div>
  );
}
