'use client'
import { useState } from 'react'
import type { MeasureAnswer } from '@/app/_server/measure-shapes'
import { Field } from '../field'
import { entered } from '../format'
import { Scroll } from '../scroll'
import { numberOf } from '../setup/typed-number'
import { Failure } from './failure'
import { useSending } from './use-sending'

/** What it was offered for, and room for another offer. */
export function Quotes({
  id,
  quotes,
  currency,
}: {
  id: string
  quotes: MeasureAnswer['quotes']
  currency: string
}) {
  const [text, setText] = useState('')
  const [amount, setAmount] = useState('')
  const [on, setOn] = useState('')
  const { isBusy, failure, sending } = useSending()
  const value = numberOf(amount)
  const isAmount = typeof value === 'number' && value >= 0
  const keep = () =>
    sending('POST', `/api/measures/${id}/quotes`, { text, amount: value, on: on || null }, () => {
      setText('')
      setAmount('')
      setOn('')
    })
  return (
    <>
      {quotes.length > 0 ? (
        <Scroll label="Quotes">
          <table>
            <thead>
              <tr>
                <th scope="col">Date</th>
                <th scope="col">What for</th>
                <th scope="col" className="num">
                  Amount
                </th>
              </tr>
            </thead>
            <tbody>
              {quotes.map((quote) => (
                <tr key={quote.id}>
                  <td className="nowrap">{quote.on}</td>
                  <td>{quote.text}</td>
                  <td className="num">
                    {entered(quote.amount)} {quote.currency}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      ) : (
        <p className="soft">No quote yet.</p>
      )}
      <details className="twin">
        <summary>Enter a quote</summary>
        <form
          aria-label="Enter a quote"
          onSubmit={(event) => {
            event.preventDefault()
            if (isAmount && text.trim()) void keep()
          }}
        >
          <div className="fields">
            <Field label="What for" value={text} onChange={setText} />
            <Field
              label="Amount"
              unit={currency}
              numeric
              value={amount}
              error={amount && !isAmount ? 'Expected a number, not below nil.' : undefined}
              onChange={setAmount}
            />
            <Field day optional label="Date of the quote" value={on} onChange={setOn} />
          </div>
          <Failure text={failure} />
          <div className="actions">
            <button type="submit" disabled={isBusy || !isAmount || !text.trim()}>
              Keep this quote
            </button>
          </div>
        </form>
      </details>
    </>
  )
}
