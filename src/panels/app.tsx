/** What is on the page. */
export function App() {
  return (
    <main>
      <h1>Deckwright</h1>
    </main>
  )
}
