CREATE TABLE "log_digests" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"started_at" timestamp with time zone,
	"received_at" timestamp with time zone NOT NULL,
	"figures" jsonb NOT NULL,
	"model_trusted" boolean NOT NULL,
	"best" jsonb,
	"choices" jsonb NOT NULL,
	"cautions" jsonb NOT NULL,
	CONSTRAINT "log_digests_machine_id_log_id_pk" PRIMARY KEY("machine_id","log_id")
);
--> statement-breakpoint
CREATE TABLE "report_runs" (
	"site_id" text NOT NULL,
	"id" text NOT NULL,
	"kind" text NOT NULL,
	"subject" text NOT NULL,
	"is_scheduled" boolean NOT NULL,
	"state" text NOT NULL,
	"error" jsonb,
	"engine_version" integer,
	"pdf" "bytea",
	"xlsx" "bytea",
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"ended_at" timestamp with time zone,
	CONSTRAINT "report_runs_site_id_id_pk" PRIMARY KEY("site_id","id")
);
--> statement-breakpoint
CREATE TABLE "saved_views" (
	"site_id" text NOT NULL,
	"id" text NOT NULL,
	"page" text NOT NULL,
	"name" text NOT NULL,
	"query" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "saved_views_site_id_id_pk" PRIMARY KEY("site_id","id")
);
--> statement-breakpoint
ALTER TABLE "log_digests" ADD CONSTRAINT "log_digests_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "report_runs" ADD CONSTRAINT "report_runs_site_id_sites_id_fk" FOREIGN KEY ("site_id") REFERENCES "public"."sites"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "saved_views" ADD CONSTRAINT "saved_views_site_id_sites_id_fk" FOREIGN KEY ("site_id") REFERENCES "public"."sites"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "log_digests_latest" ON "log_digests" USING btree ("machine_id","started_at" desc nulls last,"received_at" desc);--> statement-breakpoint
CREATE INDEX "report_runs_by_subject" ON "report_runs" USING btree ("site_id","kind","subject");