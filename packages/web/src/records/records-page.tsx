export function RecordsPage() {
  return <h1>RecordsPage</h1>;
}
