export function SetUpPage() {
  return <h1>SetUpPage</h1>;
}
