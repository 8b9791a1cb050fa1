import { useState } from 'react';
import type { Part } from '../../../shared-core/kit/kit.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { bandsOf, partFigures, partMarking, unitOfPart } from '../../components/part-words.ts';
import { placeWords } from '../../../shared-core/report/place-words.ts';
import { ResistorBands } from '../../components/resistor-bands.tsx';

interface TableProps {
  readonly build: Build;
  readonly ids: readonly string[];
}

/** The parts of a step with what is printed on them; when gathering, with room for a measured value. */
export function PartsTable({ build, ids, measuring }: TableProps & { readonly measuring: boolean }) {
  const parts = ids.flatMap((id) => build.kit.parts.filter((part) => part.id === id));
  if (parts.length === 0) return null;
  return (
    <table className="parts">
      <caption className="unseen">Parts of this step</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">Part</th>
          <th scope="col">What it is</th>
          <th scope="col">Marking</th>
          {measuring ? <th scope="col">Measured</th> : null}
        </tr>
      </thead>
      <tbody>
        {parts.map((part) => (
          <tr key={part.id}>
            <th scope="row">{part.id}</th>
            <td>
              {part.title}
              <span className="quiet"> {partFigures(part)}</span>
            </td>
            <td>
              <Marking part={part} />
            </td>
            {measuring ? (
              <td>
                <Measured part={part} build={build} />
              </td>
            ) : null}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Marking({ part }: { readonly part: Part }) {
  const bands = bandsOf(part);
  if (bands !== null) return <ResistorBands bands={bands} />;
  const marking = partMarking(part);
  return marking === null ? null : <code>{marking}</code>;
}

function Measured({ part, build }: { readonly part: Part; readonly build: Build }) {
  const unit = unitOfPart(part);
  const held = build.build.fitted.measured[part.id];
  const [text, setText] = useState('');
  if (unit === null) return null;
  const read = text.trim() === '' ? null : readQuantity(text, unit);
  const keep = (): void => {
    if (read?.ok !== true) return;
    void build.act({ kind: 'part-measured', part: part.id, value: read.value, typed: text, by: 'hand' });
    setText('');
  };
  return (
    <span className="measured">
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        aria-label={`${part.id} measured, in ${unit}`}
        aria-invalid={read?.ok === false || undefined}
        placeholder={held === undefined ? unit : formatQuantity(held, unit)}
        value={text}
        onChange={(event) => setText(event.target.value)}
        onBlur={keep}
        onKeyDown={(event) => {
          if (event.key === 'Enter') keep();
        }}
      />
      <span className="quiet">
        {read === null ? '' : read.ok ? formatQuantity(read.value, unit) : read.hint}
      </span>
    </span>
  );
}

/** The leads of a step. */
export function LeadsTable({ build, ids }: TableProps) {
  const leads = ids.flatMap((id) => build.kit.leads.filter((lead) => lead.id === id));
  if (leads.length === 0) return null;
  return (
    <table className="parts">
      <caption className="unseen">Leads of this step</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">Lead</th>
          <th scope="col">From and to</th>
          <th scope="col">Wire</th>
        </tr>
      </thead>
      <tbody>
        {leads.map((lead) => (
          <tr key={lead.id}>
            <th scope="row">{lead.id}</th>
            <td>
              {placeWords(build.kit, lead.from)} → {placeWords(build.kit, lead.to)}
            </td>
            <td className="quiet">
              {lead.colour}
              {lead.style === 'wire' ? '' : `, ${lead.style}`}
              {lead.metres === null ? '' : `, ${formatQuantity(lead.metres, 'm')}`}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
