/** A formula in which the symbols are set as such: "P_s / P_h". */
export function FormulaText({ text }: { text: string }) {
  const parts = text.split(/(\p{L}\w*_\w+)/u)
  return (
    <>
      {parts.map((part, i) =>
        i % 2 === 1 ? (
          <FigureSymbol key={`${i} ${part}`} symbol={part} />
        ) : (
          <span key={`${i} ${part}`}>{part}</span>
        ),
      )}
    </>
  )
}

/** A formula symbol: "z_hw" is z with hw set low. */
export function FigureSymbol({ symbol }: { symbol: string }) {
  const [main, low] = symbol.split('_')
  return (
    <i class="symbol">
      {main}
      {low && <sub>{low}</sub>}
    </i>
  )
}
