/** A table as plain text: columns as wide as their widest cell, numbers to the right. */
export interface Column {
  readonly title: string;
  readonly align: "left" | "right";
}

export function toTextTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const widths = columns.map(({ title }, place) =>
    Math.max(title.length, ...rows.map((row) => (row[place] ?? "").length)),
  );
  const toLine = (cells: readonly string[]): string =>
    columns
      .map(({ align }, place) => {
        const cell = cells[place] ?? "";
        const width = widths[place] ?? 0;
        return align === "left" ? cell.padEnd(width) : cell.padStart(width);
      })
      .join("  ")
      .trimEnd();
  const rule = widths.map((width) => "-".repeat(width)).join("  ");
  return [toLine(columns.map(({ title }) => title)), rule, ...rows.map(toLine)].join("\n");
}

/** 1234.5 → "1,234.5" with so many digits behind the point. */
export function toText(number: number, digits: number): string {
  return number.toLocaleString("en-US", { minimumFractionDigits: digits, maximumFractionDigits: digits });
}
