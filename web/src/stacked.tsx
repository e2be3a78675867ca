// SPDX-License-Identifier: Apache-2.0
// A length with its fractions stacked: a fraction slash runs into its digits in common fonts, and a bench hand
// misreads it. Copied as plain text it stays 28' 4 1/2".
const LENGTH = /((?:\d+' )?(?:\d+ )?)(\d+)\/(\d+)"/g;

export function Stacked({ text }: { text: string }) {
  const parts = [];
  let from = 0;
  for (const found of text.matchAll(LENGTH)) {
    parts.push(text.slice(from, found.index));
    parts.push(
      <span key={found.index} class="length">
        {found[1]}
        <span class="fraction">
          <sup>{found[2]}</sup>
          <span class="slash">/</span>
          <sub>{found[3]}</sub>
        </span>
        "
      </span>,
    );
    from = found.index + found[0].length;
  }
  parts.push(text.slice(from));
  return <>{parts}</>;
}
