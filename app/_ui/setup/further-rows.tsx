'use client'
import { Field } from '../field'
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
        {rows.map((row, index) => (
          <section className="file" key={row.key} aria-label={`${title} ${index + 1}`}>
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
                  onChange={(value) =>
                    put(
                      rows.map((other, nth) =>
                        nth === index ? { ...other, text: { ...other.text, [spec.path]: value } } : other,
                      ),
                    )
                  }
                />
              ))}
            </div>
            <button
              type="button"
              className="plain"
              onClick={() => put(rows.filter((_, nth) => nth !== index))}
            >
              Remove this {one}
            </button>
          </section>
        ))}
        <button type="button" onClick={() => put([...rows, newRow(key, `new ${Date.now()} ${rows.length}`)])}>
          Add {one === 'auxiliary' ? 'an' : 'a'} {one}
        </button>
      </fieldset>
    )
  })
}
