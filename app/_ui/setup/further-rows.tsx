'use client'
import { Field } from '../field'
import { rowKey } from '../row-key'
import { RowList } from '../row-list'
import { type FurtherDraft, newRow } from './further-draft'
import { FURTHER_LISTS } from './further-fields'

/** Further pumps, sets and auxiliaries: a list for each, empty on most machines. */
export function FurtherRows({
  further,
  errors,
  onChange,
}: {
  further: FurtherDraft
  errors: Readonly<Record<string, string>>
  onChange: (further: FurtherDraft) => void
}) {
  return FURTHER_LISTS.map(({ key, title, about, one, fields }) => {
    const rows = further[key]
    const put = (next: FurtherDraft[typeof key]) => onChange({ ...further, [key]: next })
    return (
      <fieldset key={key}>
        <legend>{title}</legend>
        <p className="soft">{about}</p>
        <RowList rows={rows} one={one} make={() => newRow(key, rowKey())} onChange={put}>
          {(row, change, index) => (
            <div className="fields">
              {fields.map((spec) => (
                <Field
                  key={spec.path}
                  label={spec.label}
                  unit={spec.unit}
                  help={spec.help}
                  optional={spec.optional}
                  choices={spec.choices}
                  numeric={!spec.choices && !spec.isText}
                  value={row.text[spec.path] ?? ''}
                  error={errors[`${key}.${index}.${spec.path}`]}
                  onChange={(value) => change({ text: { ...row.text, [spec.path]: value } })}
                />
              ))}
            </div>
          )}
        </RowList>
      </fieldset>
    )
  })
}
