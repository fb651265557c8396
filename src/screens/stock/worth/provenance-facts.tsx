/** Where a kept run comes from, line by line; fingerprints (64 digits of SHA-256) in the letters of code. */
export function ProvenanceFacts({ facts }: { facts: readonly (readonly [string, string])[] }) {
  return (
    <dl className="provenance">
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd className={value.length === 64 ? 'code' : undefined}>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
