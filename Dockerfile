# Build and publish with the SDK, run on the smaller runtime image.
FROM mcr.microsoft.com/dotnet/sdk:10.0 AS build
WORKDIR /source
ENV DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1

# The projects alone first: packages are fetched again only when one of these files changes.
COPY global.json Directory.Build.props Directory.Packages.props .editorconfig ./
COPY src/KitOrders.Rules/KitOrders.Rules.csproj src/KitOrders.Rules/
COPY src/KitOrders.Storage/KitOrders.Storage.csproj src/KitOrders.Storage/
COPY src/KitOrders.Operations/KitOrders.Operations.csproj src/KitOrders.Operations/
COPY src/KitOrders.Web/KitOrders.Web.csproj src/KitOrders.Web/
COPY migrations/KitOrders.Migrations/KitOrders.Migrations.csproj migrations/KitOrders.Migrations/
COPY seed-demo/KitOrders.SeedDemo/KitOrders.SeedDemo.csproj seed-demo/KitOrders.SeedDemo/
RUN dotnet restore src/KitOrders.Web

COPY src/ src/
COPY migrations/ migrations/
COPY seed-demo/ seed-demo/
RUN dotnet publish src/KitOrders.Web -c Release --no-restore -o /app

FROM mcr.microsoft.com/dotnet/aspnet:10.0
WORKDIR /app
COPY --from=build /app ./
# Sign-in keys live here; a new volume takes over the folder's owner.
RUN mkdir /data && chown "$APP_UID" /data && chmod 700 /data
USER $APP_UID
ENV KitOrders__Data=/data
VOLUME /data
EXPOSE 8080
ENTRYPOINT ["dotnet", "KitOrders.Web.dll"]
CMD ["--urls", "http://*:8080"]
