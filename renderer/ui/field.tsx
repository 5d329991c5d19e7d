import { useState, type ReactNode } from 'react'
import {
  Button,
  Checkbox as AriaCheckbox,
  FieldError,
  Input,
  Label,
  ListBox,
  ListBoxItem,
  Popover,
  Select,
  SelectValue,
  Text,
  TextArea,
  TextField,
} from 'react-aria-components'

interface FieldBasics {
  readonly label: string
  /** One sentence under the field. */
  readonly help?: ReactNode
  /** One sentence that says what is wrong and what was expected. */
  readonly problem?: string | undefined
  readonly disabled?: boolean
  readonly autoFocus?: boolean
}

const Under = ({ help, problem }: FieldBasics) => (
  <>
    {help !== undefined && problem === undefined && (
      <Text slot="description" className="field-help">
        {help}
      </Text>
    )}
    <FieldError className="field-problem">{problem}</FieldError>
  </>
)

const common = (props: FieldBasics) => ({
  isInvalid: props.problem !== undefined,
  isDisabled: props.disabled === true,
  ...(props.autoFocus === true ? { autoFocus: true } : {}),
})

export interface TextFieldProps extends FieldBasics {
  readonly value: string
  readonly onChange: (value: string) => void
  /** More than one: a field of several lines. */
  readonly lines?: number
  readonly unit?: string
}

export const Field = (props: TextFieldProps) => (
  <TextField className="field" value={props.value} onChange={props.onChange} {...common(props)}>
    <Label>
      {props.label}
      {props.unit !== undefined && <span className="field-unit"> {props.unit}</span>}
    </Label>
    {props.lines !== undefined && props.lines > 1 ? (
      <TextArea className="field-input" rows={props.lines} />
    ) : (
      <Input className="field-input" autoComplete="off" />
    )}
    <Under {...props} />
  </TextField>
)

export interface NumberFieldProps extends FieldBasics {
  /** Null: nothing typed, which is not zero. */
  readonly value: number | null
  readonly onChange: (value: number | null) => void
  readonly unit?: string
}

/** A number as a person types it; a comma counts as a decimal point. Null for none, undefined for no number. */
export const readNumber = (text: string): number | null | undefined => {
  const plain = text.trim().replace(',', '.')
  if (plain === '') return null
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : undefined
}

export const NumberField = ({ value, onChange, ...props }: NumberFieldProps) => {
  const [draft, setDraft] = useState<string | null>(null)
  const wrong = draft !== null && readNumber(draft) === undefined
  const problem = wrong ? `${props.label} expects a number.` : props.problem
  return (
    <TextField
      className="field"
      inputMode="decimal"
      value={draft ?? (value === null ? '' : String(value))}
      onChange={(text) => {
        setDraft(text)
        const read = readNumber(text)
        if (read !== undefined) onChange(read)
      }}
      onBlur={() => {
        if (!wrong) setDraft(null)
      }}
      {...common({ ...props, problem })}
    >
      <Label>
        {props.label}
        {props.unit !== undefined && <span className="field-unit"> {props.unit}</span>}
      </Label>
      <Input className="field-input number" autoComplete="off" />
      <Under {...props} problem={problem} />
    </TextField>
  )
}

export interface ChoiceOption {
  readonly key: string
  readonly label: string
}

export interface ChoiceProps extends FieldBasics {
  readonly options: readonly ChoiceOption[]
  readonly value: string | null
  readonly onChange: (key: string) => void
  /** Shown while nothing is chosen. */
  readonly placeholder?: string
}

export const Choice = (props: ChoiceProps) => (
  <Select
    className="field"
    value={props.value}
    onChange={(key) => {
      if (key !== null) props.onChange(String(key))
    }}
    placeholder={props.placeholder ?? 'Choose'}
    {...common(props)}
  >
    <Label>{props.label}</Label>
    <Button className="field-input choice-button">
      <SelectValue className="choice-value" />
      <svg viewBox="0 0 10 6" className="choice-arrow" aria-hidden="true">
        <path d="M1 1 L5 5 L9 1" />
      </svg>
    </Button>
    <Under {...props} />
    <Popover className="menu-popover choice-popover" offset={2}>
      <ListBox className="menu">
        {props.options.map((option) => (
          <ListBoxItem key={option.key} id={option.key} textValue={option.label} className="menu-line">
            {option.label}
          </ListBoxItem>
        ))}
      </ListBox>
    </Popover>
  </Select>
)

export interface CheckboxProps {
  readonly children: ReactNode
  readonly checked: boolean
  /** Some of several are on. */
  readonly mixed?: boolean
  readonly disabled?: boolean
  readonly onChange: (checked: boolean) => void
}

export const Checkbox = (props: CheckboxProps) => (
  <AriaCheckbox
    className="checkbox"
    isSelected={props.checked}
    isIndeterminate={props.mixed === true}
    isDisabled={props.disabled === true}
    onChange={props.onChange}
  >
    <svg viewBox="0 0 14 14" className="checkbox-box" aria-hidden="true">
      {props.mixed === true ? (
        <path d="M3 7 H11" />
      ) : props.checked ? (
        <path d="M2.5 7.5 L6 11 L11.5 3.5" />
      ) : null}
    </svg>
    <span>{props.children}</span>
  </AriaCheckbox>
)
