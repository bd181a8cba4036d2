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
