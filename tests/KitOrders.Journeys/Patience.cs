using System.Runtime.CompilerServices;
using Microsoft.Playwright;

namespace KitOrders.Journeys;

/// <summary>
/// How long a test waits for what must come. It is no measure of speed: a machine under load may take long, and what never
/// comes fails all the same.
/// </summary>
static class Patience
{
    public const int Milliseconds = 60_000;

    [ModuleInitializer]
    internal static void Set() => Assertions.SetDefaultExpectTimeout(Milliseconds);

    public static async Task<bool> For(Func<Task<bool>> holds, int every = 100)
    {
        for (var begun = Environment.TickCount64; Environment.TickCount64 - begun < Milliseconds; await Task.Delay(every))
        {
            if (await holds())
                return true;
        }

        return false;
    }
}
